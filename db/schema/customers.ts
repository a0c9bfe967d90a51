import { sql } from "drizzle-orm";
import { boolean, check, integer, numeric, pgTable, text, timestamp, uniqueIndex } from "drizzle-orm/pg-core";

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
    contactName: text().notNull().default(""),
    email: text().notNull().default(""),
    phone: text().notNull().default(""),
    /** Where parcels go, or where the market is held. */
    address: text().notNull().default(""),
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
  ],
);
