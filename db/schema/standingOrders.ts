import { sql } from "drizzle-orm";
import {
  check,
  date,
  index,
  integer,
  pgTable,
  smallint,
  text,
  timestamp,
  unique,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { customers } from "./customers.ts";
import { orders } from "./orders.ts";
import { people } from "./people.ts";
import { products } from "./products.ts";
import { hasRuleForm } from "./recurrence.ts";

/** What a customer wants again and again. Each date becomes a draft that waits to be confirmed. */
export const standingOrders = pgTable(
  "standing_orders",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    customerId: integer()
      .notNull()
      .references(() => customers.id),
    /** The value of an RRULE (RFC 5545, 3.3.10), such as "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU"; without DTSTART, COUNT, UNTIL. */
    rule: text().notNull(),
    /** From which date the rule counts; the first date on which the customer may need the goods. */
    startsOn: date().notNull(),
    /** Last date that may come up; null: until further notice. */
    endsOn: date(),
    /** How many days before the date its draft is made. */
    daysBefore: smallint().notNull(),
    note: text().notNull().default(""),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    createdBy: integer()
      .notNull()
      .references(() => people.id),
    /** When set no further date comes up; the drafts made before stay. */
    stoppedAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    check("standing_orders_rule_form", hasRuleForm(table.rule)),
    check("standing_orders_ends_later", sql`${table.endsOn} >= ${table.startsOn}`),
    check("standing_orders_days_before", sql`${table.daysBefore} between 0 and 120`),
    index("standing_orders_by_customer").on(table.customerId, table.id),
  ],
);

/** So many pieces of one product at each date. */
export const standingOrderLines = pgTable(
  "standing_order_lines",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    standingOrderId: integer()
      .notNull()
      .references(() => standingOrders.id),
    productId: integer()
      .notNull()
      .references(() => products.id),
    units: integer().notNull(),
  },
  (table) => [
    unique("standing_order_lines_product_once").on(table.standingOrderId, table.productId),
    check("standing_order_lines_units", sql`${table.units} between 1 and 100000`),
  ],
);

/** Dates that are passed over, both ends included. That two pauses never overlap is an exclusion constraint in the migrations. */
export const standingOrderPauses = pgTable(
  "standing_order_pauses",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    standingOrderId: integer()
      .notNull()
      .references(() => standingOrders.id),
    firstDate: date().notNull(),
    /** Null: until it is taken up again. */
    lastDate: date(),
  },
  (table) => [check("standing_order_pauses_in_order", sql`${table.lastDate} >= ${table.firstDate}`)],
);

/** A date that has been seen to, so that it is never made into a draft twice, whoever looks at the same moment. */
export const standingOrderDates = pgTable(
  "standing_order_dates",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    standingOrderId: integer()
      .notNull()
      .references(() => standingOrders.id),
    onDate: date().notNull(),
    outcome: text({ enum: ["drafted", "left-out"] }).notNull(),
    orderId: integer().references(() => orders.id),
    at: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [
    unique("standing_order_dates_once").on(table.standingOrderId, table.onDate),
    check("standing_order_dates_outcome_known", sql`${table.outcome} in ('drafted', 'left-out')`),
    check(
      "standing_order_dates_drafted_has_its_order",
      sql`(${table.outcome} = 'drafted') = (${table.orderId} is not null)`,
    ),
    // A draft comes from one date.
    uniqueIndex("standing_order_dates_one_an_order").on(table.orderId),
  ],
);
