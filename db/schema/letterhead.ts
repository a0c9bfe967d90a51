import { sql } from "drizzle-orm";
import { check, integer, pgTable, text } from "drizzle-orm/pg-core";

/** What stands at the head and the foot of every paper that leaves the workshop. One row, once somebody wrote it. */
export const letterhead = pgTable(
  "letterhead",
  {
    id: integer().primaryKey().default(1),
    /** Under which name the shop bills; blank: the workshop's. */
    name: text().notNull().default(""),
    address: text().notNull().default(""),
    /** With the word that goes before it, as the law of the place calls it. */
    taxNumber: text().notNull().default(""),
    /** Where to pay: bank, account and whatever a customer needs for it. */
    bank: text().notNull().default(""),
    /** What an invoice says of paying, beside its due date. */
    paymentWords: text().notNull().default(""),
    footer: text().notNull().default(""),
    paperSize: text({ enum: ["A4", "Letter"] })
      .notNull()
      .default("A4"),
  },
  (table) => [
    check("letterhead_only_one", sql`${table.id} = 1`),
    check("letterhead_paper_size_known", sql`${table.paperSize} in ('A4', 'Letter')`),
  ],
);
