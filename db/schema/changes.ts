import { sql } from "drizzle-orm";
import { bigint, check, index, integer, jsonb, pgTable, text, timestamp, uuid } from "drizzle-orm/pg-core";
import { people } from "./people.ts";

/** Who changed what, when, from what to what. Written in the transaction of the change itself; never updated. */
export const changes = pgTable(
  "changes",
  {
    id: bigint({ mode: "number" }).primaryKey().generatedAlwaysAsIdentity(),
    at: timestamp({ withTimezone: true }).notNull(),
    /** Null only for what the system did itself. */
    personId: integer().references(() => people.id),
    /** What was changed: "order", "lot", "plan", "shape" ... */
    subject: text().notNull(),
    subjectId: integer().notNull(),
    /** A past participle: "confirmed", "packed", "changed" ... */
    what: text().notNull(),
    before: jsonb(),
    after: jsonb(),
  },
  (table) => [
    // The history of one thing, newest first.
    index("changes_by_subject").on(table.subject, table.subjectId, table.id),
  ],
);

/**
 * A form's own number, written in the transaction that carries the form out: the same form sent
 * twice meets its first receipt and is answered with the same place, without acting again.
 */
export const formReceipts = pgTable(
  "form_receipts",
  {
    formToken: uuid().primaryKey(),
    personId: integer().references(() => people.id),
    action: text().notNull(),
    /** Where the first sending was led; null only inside the transaction that is carrying it out. */
    location: text(),
    at: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [check("form_receipts_action_given", sql`length(${table.action}) > 0`)],
);
