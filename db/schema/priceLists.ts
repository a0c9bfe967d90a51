import { sql } from "drizzle-orm";
import { boolean, check, integer, pgTable, text, timestamp, uniqueIndex } from "drizzle-orm/pg-core";

/** A list of prices that many customers buy from. What one customer pays differently stands in `own_prices`. */
export const priceLists = pgTable(
  "price_lists",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    name: text().notNull(),
    /** wholesale: for shops; retail: for the stall and whoever buys there. */
    kind: text({ enum: ["retail", "wholesale"] }).notNull(),
    /** Whether the prices on it have the tax in them. Never changed once there are prices: they would mean other money. */
    includesTax: boolean().notNull(),
    /** The one customers buy from who are given none: shops the usual wholesale list, markets the usual retail list. */
    usual: boolean().notNull().default(false),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    uniqueIndex("price_lists_name_unique").on(sql`lower(${table.name})`),
    check("price_lists_name_given", sql`length(trim(${table.name})) between 1 and 80`),
    check("price_lists_kind_known", sql`${table.kind} in ('retail', 'wholesale')`),
    check("price_lists_usual_is_in_use", sql`not (${table.usual} and ${table.retiredAt} is not null)`),
    // At most one list is the usual one of its kind.
    uniqueIndex("price_lists_one_usual").on(table.kind).where(sql`${table.usual}`),
  ],
);
