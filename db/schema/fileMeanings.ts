import { sql } from "drizzle-orm";
import { check, integer, pgTable, text, timestamp, uniqueIndex } from "drizzle-orm/pg-core";
import { customers } from "./customers.ts";
import { people } from "./people.ts";
import { products } from "./products.ts";

/** What a text in an order file meant the last time somebody was asked: a customer, a product, or nothing to take. */
export const fileMeanings = pgTable(
  "file_meanings",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    what: text({ enum: ["customer", "product"] }).notNull(),
    /** As it stood in the file, trimmed. */
    writtenAs: text().notNull(),
    meaning: text({ enum: ["match", "leave-out"] }).notNull(),
    customerId: integer().references(() => customers.id),
    productId: integer().references(() => products.id),
    decidedAt: timestamp({ withTimezone: true }).notNull(),
    decidedBy: integer()
      .notNull()
      .references(() => people.id),
  },
  (table) => [
    check("file_meanings_what_known", sql`${table.what} in ('customer', 'product')`),
    check("file_meanings_meaning_known", sql`${table.meaning} in ('match', 'leave-out')`),
    check(
      "file_meanings_text_given",
      sql`${table.writtenAs} = trim(${table.writtenAs}) and length(${table.writtenAs}) between 1 and 200`,
    ),
    check(
      "file_meanings_match_one_thing",
      sql`(${table.what} = 'customer' and ${table.meaning} = 'match') = (${table.customerId} is not null)
        and (${table.what} = 'product' and ${table.meaning} = 'match') = (${table.productId} is not null)`,
    ),
    // One text means one thing, however it is capitalised.
    uniqueIndex("file_meanings_one_a_text").on(table.what, sql`lower(${table.writtenAs})`),
  ],
);
