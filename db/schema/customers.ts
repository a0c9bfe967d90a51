import { sql } from "drizzle-orm";
import {
  boolean,
  check,
  index,
  integer,
  numeric,
  pgTable,
  smallint,
  text,
  timestamp,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { isCharge, isShare, minorUnits } from "./money.ts";
import { priceLists } from "./priceLists.ts";
import { taxGroups } from "./taxes.ts";
import { shapes } from "./workshop.ts";

/** A shop that buys wholesale, or a market the maker takes a crate to. */
export const customers = pgTable(
  "customers",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    name: text().notNull(),
    kind: text({ enum: ["shop", "market"] }).notNull(),
    takesPartDeliveries: boolean().notNull().default(false),
    /** How much a late day here weighs against a late day elsewhere. */
    priorityWeight: numeric({ precision: 5, scale: 2, mode: "number" }).notNull().default(1),
    /** Where parcels go, or where the market is held. */
    address: text().notNull().default(""),
    /** How what is ordered gets there; in the same words as a delivery. Null: not agreed yet. */
    takesBy: text({ enum: ["parcel", "local-round", "collected", "market-crate"] }),
    /** Working days between leaving the workshop and being there: a needed-by date less these is the ship-by date. */
    transitDays: smallint().notNull().default(0),
    /** Days from delivery to payment; 0: at once. */
    netDays: smallint().notNull().default(0),
    /** Off every order, in basis points. */
    orderDiscountBasisPoints: integer().notNull().default(0),
    /** Off what is paid within so many days, as in "2 % within 10 days, net 30". */
    earlyDiscountBasisPoints: integer().notNull().default(0),
    earlyDiscountDays: smallint().notNull().default(0),
    /** Charged for sending an order; stated with or without tax as the prices are. */
    shippingMinor: minorUnits().notNull().default(0),
    /** Orders of a smaller value are not taken, or only by the maker's word. Null: any. */
    leastOrderMinor: minorUnits(),
    /** Orders of fewer pieces, likewise. */
    leastOrderUnits: integer(),
    /** Null: the workshop's usual group, and no tax where there is none. */
    taxGroupId: integer().references(() => taxGroups.id),
    /** Null: the usual list for its kind. */
    priceListId: integer().references(() => priceLists.id),
    notes: text().notNull().default(""),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    uniqueIndex("customers_name_unique").on(sql`lower(${table.name})`),
    check("customers_kind_known", sql`${table.kind} in ('shop', 'market')`),
    check("customers_name_given", sql`length(trim(${table.name})) > 0`),
    check("customers_weight_range", sql`${table.priorityWeight} > 0 and ${table.priorityWeight} <= 100`),
    check(
      "customers_markets_take_no_parts",
      sql`not (${table.kind} = 'market' and ${table.takesPartDeliveries})`,
    ),
    check(
      "customers_takes_by_known",
      sql`${table.takesBy} in ('parcel', 'local-round', 'collected', 'market-crate')`,
    ),
    // Only a parcel is under way for days; the round, the crate and whoever collects are there the same day.
    check(
      "customers_transit_days",
      sql`${table.transitDays} between 0 and 30 and (${table.transitDays} = 0 or coalesce(${table.takesBy}, 'parcel') = 'parcel')`,
    ),
    check("customers_net_days", sql`${table.netDays} between 0 and 365`),
    check("customers_order_discount", isShare(table.orderDiscountBasisPoints)),
    check(
      "customers_early_discount",
      sql`${isShare(table.earlyDiscountBasisPoints)} and ${table.earlyDiscountDays} between 0 and ${table.netDays}
        and (${table.earlyDiscountBasisPoints} = 0) = (${table.earlyDiscountDays} = 0)`,
    ),
    check("customers_shipping", isCharge(table.shippingMinor)),
    check("customers_least_order", sql`${isCharge(table.leastOrderMinor)} and ${table.leastOrderMinor} > 0`),
    check("customers_least_units", sql`${table.leastOrderUnits} between 1 and 100000`),
  ],
);

/** Whom to ask for, in the order in which the maker would call them. */
export const customerContacts = pgTable(
  "customer_contacts",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    customerId: integer()
      .notNull()
      .references(() => customers.id),
    name: text().notNull(),
    /** What they see to, in the maker's words: "orders", "the back door". */
    role: text().notNull().default(""),
    phone: text().notNull().default(""),
    email: text().notNull().default(""),
  },
  (table) => [
    check(
      "customer_contacts_somebody",
      sql`length(trim(${table.name} || ${table.phone} || ${table.email})) > 0`,
    ),
    index("customer_contacts_by_customer").on(table.customerId, table.id),
  ],
);

/** In what multiples a shape is sold: to everybody (no customer), or to one customer instead of that. */
export const casePacks = pgTable(
  "case_packs",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    shapeId: integer()
      .notNull()
      .references(() => shapes.id),
    customerId: integer().references(() => customers.id),
    /** Pieces in one case; 1: sold singly, which a customer may be given where the others buy by the case. */
    units: integer().notNull(),
  },
  (table) => [
    check("case_packs_units", sql`${table.units} between 1 and 10000`),
    uniqueIndex("case_packs_one_for_everybody").on(table.shapeId).where(sql`${table.customerId} is null`),
    uniqueIndex("case_packs_one_a_customer")
      .on(table.customerId, table.shapeId)
      .where(sql`${table.customerId} is not null`),
  ],
);
