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
import { isCharge, minorUnits } from "./money.ts";
import { orders } from "./orders.ts";
import { products } from "./products.ts";
import { hasRuleForm } from "./recurrence.ts";

/** What a stall is like, on one date or usually. */
const stall = {
  /** Markets of one kind are learned from together, such as "weekly market" or "craft fair". */
  kind: text().notNull().default(""),
  place: text().notNull().default(""),
  /** Minutes from local midnight. */
  opensMinute: smallint().notNull(),
  closesMinute: smallint().notNull(),
  feeMinor: minorUnits().notNull().default(0),
  /** Minutes from loading the first crate to being ready to leave. */
  loadingMinutes: smallint().notNull().default(0),
};

/** How a market usually is, and when it comes again. One for each customer that is a market. */
export const marketHabits = pgTable(
  "market_habits",
  {
    customerId: integer()
      .primaryKey()
      .references(() => customers.id),
    ...stall,
    /** The value of an RRULE (RFC 5545, 3.3.10); null: it comes as it comes. */
    rule: text(),
    startsOn: date(),
    endsOn: date(),
  },
  (table) => [
    check(
      "market_habits_hours",
      sql`${table.opensMinute} >= 0 and ${table.opensMinute} < ${table.closesMinute} and ${table.closesMinute} <= 1440`,
    ),
    check("market_habits_fee", isCharge(table.feeMinor)),
    check("market_habits_loading", sql`${table.loadingMinutes} between 0 and 1440`),
    check("market_habits_rule_form", hasRuleForm(table.rule)),
    check("market_habits_rule_has_its_start", sql`(${table.rule} is null) = (${table.startsOn} is null)`),
    check(
      "market_habits_ends_later",
      sql`${table.endsOn} is null or (${table.startsOn} is not null and ${table.endsOn} >= ${table.startsOn})`,
    ),
  ],
);

/** One market on one date. Its order is the crate list; what came of it stands in the counts. */
export const markets = pgTable(
  "markets",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    customerId: integer()
      .notNull()
      .references(() => customers.id),
    heldOn: date().notNull(),
    ...stall,
    note: text().notNull().default(""),
    /** The crate list; null until there is one. */
    orderId: integer().references(() => orders.id),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    /** When everything that came home had been counted: from then on it is history to learn from. */
    countedAt: timestamp({ withTimezone: true }),
    /** When it was given up: bad weather, no stall. Nothing is learned from it. */
    calledOffAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    unique("markets_once_a_day").on(table.customerId, table.heldOn),
    uniqueIndex("markets_one_crate_list").on(table.orderId),
    check(
      "markets_hours",
      sql`${table.opensMinute} >= 0 and ${table.opensMinute} < ${table.closesMinute} and ${table.closesMinute} <= 1440`,
    ),
    check("markets_fee", isCharge(table.feeMinor)),
    check("markets_loading", sql`${table.loadingMinutes} between 0 and 1440`),
    check("markets_counted_or_called_off", sql`${table.countedAt} is null or ${table.calledOffAt} is null`),
    // The past markets of a kind, newest first.
    index("markets_by_date").on(table.heldOn, table.id),
  ],
);

/** What became of one product at one market. Sold = taken - home - given away, and never less than nothing. */
export const marketCounts = pgTable(
  "market_counts",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    marketId: integer()
      .notNull()
      .references(() => markets.id),
    productId: integer()
      .notNull()
      .references(() => products.id),
    takenUnits: integer().notNull(),
    /** Came home and went back on the shelf. */
    homeUnits: integer().notNull(),
    /** Samples, gifts, broken at the stall. */
    givenAwayUnits: integer().notNull().default(0),
    /** Minutes from local midnight at which the last one went; null: not sold out, or nobody looked. */
    soldOutMinute: smallint(),
  },
  (table) => [
    unique("market_counts_product_once").on(table.marketId, table.productId),
    check(
      "market_counts_add_up",
      sql`${table.takenUnits} between 0 and 100000 and ${table.homeUnits} >= 0 and ${table.givenAwayUnits} >= 0
        and ${table.homeUnits} + ${table.givenAwayUnits} <= ${table.takenUnits}`,
    ),
    // Who was sold out brought nothing home.
    check(
      "market_counts_sold_out",
      sql`${table.soldOutMinute} is null or (${table.soldOutMinute} between 0 and 1440 and ${table.homeUnits} = 0 and ${table.takenUnits} > 0)`,
    ),
    index("market_counts_by_product").on(table.productId, table.marketId),
  ],
);
