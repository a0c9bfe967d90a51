import { sql } from "drizzle-orm";
import {
  boolean,
  check,
  date,
  index,
  integer,
  pgTable,
  text,
  timestamp,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { isCharge, minorUnits } from "./money.ts";
import { people } from "./people.ts";
import { supplies, supplyAmount } from "./supplies.ts";

/** Who sells what the workshop needs, and how long it takes. */
export const suppliers = pgTable(
  "suppliers",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    name: text().notNull(),
    /** Calendar days from ordering to having it here. */
    deliveryDays: integer().notNull(),
    /** ISO 8601 weekdays on which one orders there, 1 Monday .. 7 Sunday; empty: on any day. */
    orderWeekdays: integer().array().notNull().default([]),
    /** How to order there, as typed. */
    contact: text().notNull().default(""),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    uniqueIndex("suppliers_name_unique").on(sql`lower(${table.name})`),
    check("suppliers_name_given", sql`length(trim(${table.name})) between 1 and 120`),
    check("suppliers_delivery_days", sql`${table.deliveryDays} between 0 and 365`),
    check("suppliers_weekdays", sql`${table.orderWeekdays} <@ array[1, 2, 3, 4, 5, 6, 7]`),
  ],
);

/** A pack in which a supplier sells a supply, and what it costs there. */
export const supplyPacks = pgTable(
  "supply_packs",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    supplyId: integer()
      .notNull()
      .references(() => supplies.id),
    supplierId: integer()
      .notNull()
      .references(() => suppliers.id),
    /** What is in it. */
    amount: supplyAmount().notNull(),
    /** As it was written: so many thousandths of a unit. */
    thousandths: integer().notNull(),
    unit: text({
      enum: ["g", "kg", "oz", "lb", "ml", "fl-oz-us", "fl-oz-imperial", "tsp", "piece"],
    }).notNull(),
    /** Of one pack; null: not known. */
    priceMinor: minorUnits(),
    /** Packs one has to take at least. */
    leastPacks: integer().notNull().default(1),
    /** What the supplier calls it. */
    code: text().notNull().default(""),
    /** The one that is bought unless somebody chooses otherwise. */
    usual: boolean().notNull().default(false),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    check("supply_packs_amount", sql`${table.amount} between 1 and 1000000000000`),
    check("supply_packs_written", sql`${table.thousandths} > 0`),
    check(
      "supply_packs_unit_known",
      sql`${table.unit} in ('g', 'kg', 'oz', 'lb', 'ml', 'fl-oz-us', 'fl-oz-imperial', 'tsp', 'piece')`,
    ),
    check("supply_packs_price", isCharge(table.priceMinor)),
    check("supply_packs_least", sql`${table.leastPacks} between 1 and 10000`),
    check("supply_packs_usual_is_in_use", sql`not (${table.usual} and ${table.retiredAt} is not null)`),
    uniqueIndex("supply_packs_one_usual").on(table.supplyId).where(sql`${table.usual}`),
  ],
);

/** What has been ordered of a supplier and is on its way, until it is received or called off. */
export const purchases = pgTable(
  "purchases",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    supplyId: integer()
      .notNull()
      .references(() => supplies.id),
    supplierId: integer()
      .notNull()
      .references(() => suppliers.id),
    amount: supplyAmount().notNull(),
    /** Of all of it, as it was when it was ordered; null: not known. */
    priceMinor: minorUnits(),
    orderedOn: date().notNull(),
    /** When it should be here. */
    dueOn: date().notNull(),
    orderedBy: integer().references(() => people.id),
    state: text({ enum: ["open", "received", "called-off"] }).notNull(),
  },
  (table) => [
    check("purchases_amount", sql`${table.amount} between 1 and 1000000000000`),
    check("purchases_price", isCharge(table.priceMinor)),
    check("purchases_state_known", sql`${table.state} in ('open', 'received', 'called-off')`),
    check("purchases_due_later", sql`${table.dueOn} >= ${table.orderedOn}`),
    index("purchases_open").on(table.supplyId).where(sql`${table.state} = 'open'`),
  ],
);
