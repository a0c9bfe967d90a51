import { sql } from "drizzle-orm";
import { bigint, check, index, integer, pgTable, text, timestamp, uniqueIndex } from "drizzle-orm/pg-core";
import { customers } from "./customers.ts";
import { lots } from "./lots.ts";
import { people } from "./people.ts";
import { supplyLots } from "./supplyLots.ts";

/** A lot of pieces, or of a supply with every lot of pieces that was made of it, that is called back. */
export const recalls = pgTable(
  "recalls",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    lotId: integer().references(() => lots.id),
    supplyLotId: integer().references(() => supplyLots.id),
    reason: text().notNull(),
    begunAt: timestamp({ withTimezone: true }).notNull(),
    begunBy: integer().references(() => people.id),
    endedAt: timestamp({ withTimezone: true }),
    endedBy: integer().references(() => people.id),
    endNote: text(),
  },
  (table) => [
    check("recalls_of_one_lot", sql`num_nonnulls(${table.lotId}, ${table.supplyLotId}) = 1`),
    check("recalls_reason_given", sql`length(trim(${table.reason})) between 1 and 200`),
    check("recalls_end_says_why", sql`(${table.endedAt} is null) = (${table.endNote} is null)`),
    check("recalls_ended_by_somebody", sql`${table.endedBy} is null or ${table.endedAt} is not null`),
    check("recalls_end_note_given", sql`length(trim(${table.endNote})) between 1 and 200`),
    // A lot is recalled once at a time; asked of every lot whose pieces or milligrams are counted on.
    uniqueIndex("recalls_one_open_of_lot").on(table.lotId).where(sql`${table.endedAt} is null`),
    uniqueIndex("recalls_one_open_of_supply_lot").on(table.supplyLotId).where(sql`${table.endedAt} is null`),
  ],
);

/** Who was told of a recall, when, how and by whom, and what came of it. Written once; told again is another row. */
export const recallNotices = pgTable(
  "recall_notices",
  {
    id: bigint({ mode: "number" }).primaryKey().generatedAlwaysAsIdentity(),
    recallId: integer()
      .notNull()
      .references(() => recalls.id),
    customerId: integer()
      .notNull()
      .references(() => customers.id),
    how: text({ enum: ["phone", "e-mail", "visit", "letter", "notice"] }).notNull(),
    /** What they said, in the shop's own words; blank: nothing was noted. */
    said: text().notNull().default(""),
    /** Pieces they sent back. They are written down here alone: they go on no shelf. */
    unitsBack: integer().notNull().default(0),
    at: timestamp({ withTimezone: true }).notNull(),
    personId: integer().references(() => people.id),
  },
  (table) => [
    check("recall_notices_how_known", sql`${table.how} in ('phone', 'e-mail', 'visit', 'letter', 'notice')`),
    check("recall_notices_said", sql`length(${table.said}) <= 500`),
    check("recall_notices_units_back", sql`${table.unitsBack} between 0 and 100000`),
    // Who was told is read recall by recall.
    index("recall_notices_by_recall").on(table.recallId, table.customerId, table.id),
  ],
);
