import { sql } from "drizzle-orm";
import { check, integer, pgTable, text, timestamp, uniqueIndex } from "drizzle-orm/pg-core";
import { customers } from "./customers.ts";
import { people } from "./people.ts";

/** A shop's own order page without sign-in: whoever has the address may order for that shop until it is withdrawn. */
export const stockistLinks = pgTable(
  "stockist_links",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    customerId: integer()
      .notNull()
      .references(() => customers.id),
    /** SHA-256 of the address's secret, in hexadecimal: who reads the table cannot open the page. */
    tokenHash: text().notNull().unique(),
    madeAt: timestamp({ withTimezone: true }).notNull(),
    madeBy: integer()
      .notNull()
      .references(() => people.id),
    withdrawnAt: timestamp({ withTimezone: true }),
    withdrawnBy: integer().references(() => people.id),
  },
  (table) => [
    check("stockist_links_hash_form", sql`${table.tokenHash} ~ '^[0-9a-f]{64}$'`),
    check(
      "stockist_links_withdrawn_by_somebody",
      sql`(${table.withdrawnAt} is null) = (${table.withdrawnBy} is null)`,
    ),
    // A shop has one address at a time: a new one is made by withdrawing the old one.
    uniqueIndex("stockist_links_one_live").on(table.customerId).where(sql`${table.withdrawnAt} is null`),
  ],
);
