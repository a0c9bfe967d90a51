import { sql } from "drizzle-orm";
import { check, index, integer, pgTable, text, timestamp } from "drizzle-orm/pg-core";
import { orders } from "./orders.ts";
import { people } from "./people.ts";

/** What whoever packs or ships an order should know. Taken away when it is done with; the order's history keeps it. */
export const packingNotes = pgTable(
  "packing_notes",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    orderId: integer()
      .notNull()
      .references(() => orders.id, { onDelete: "cascade" }),
    words: text().notNull(),
    at: timestamp({ withTimezone: true }).notNull(),
    personId: integer().references(() => people.id),
  },
  (table) => [
    check("packing_notes_words_given", sql`length(trim(${table.words})) between 1 and 300`),
    // Read with every page of the order.
    index("packing_notes_by_order").on(table.orderId, table.id),
  ],
);
