import { sql } from "drizzle-orm";
import { check, date, integer, pgTable, text, timestamp, unique, uniqueIndex } from "drizzle-orm/pg-core";
import { isTaxRate } from "./money.ts";

/** Customers whose goods are taxed alike, such as "shops at home" or "shops abroad". What a law asks is the maker's to know. */
export const taxGroups = pgTable(
  "tax_groups",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    name: text().notNull(),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    uniqueIndex("tax_groups_name_unique").on(sql`lower(${table.name})`),
    check("tax_groups_name_given", sql`length(trim(${table.name})) between 1 and 80`),
  ],
);

/** The rate of a group from a date on, until the next one begins: two rates of one day cannot be written. */
export const taxRates = pgTable(
  "tax_rates",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    taxGroupId: integer()
      .notNull()
      .references(() => taxGroups.id),
    validFrom: date().notNull(),
    /** Parts per million: exact for every published rate, 8.875 % included. */
    ratePpm: integer().notNull(),
  },
  (table) => [
    unique("tax_rates_one_a_day").on(table.taxGroupId, table.validFrom),
    check("tax_rates_range", isTaxRate(table.ratePpm)),
  ],
);
