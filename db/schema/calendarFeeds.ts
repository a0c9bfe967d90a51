import { sql } from "drizzle-orm";
import { check, integer, pgTable, text, timestamp, uniqueIndex } from "drizzle-orm/pg-core";
import { people } from "./people.ts";

/** The workshop's calendar for phones: whoever has the address may read it until it is withdrawn. */
export const calendarFeeds = pgTable(
  "calendar_feeds",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** SHA-256 of the address's secret, in hexadecimal: who reads the table cannot read the calendar. */
    tokenHash: text().notNull().unique(),
    madeAt: timestamp({ withTimezone: true }).notNull(),
    madeBy: integer()
      .notNull()
      .references(() => people.id),
    withdrawnAt: timestamp({ withTimezone: true }),
    withdrawnBy: integer().references(() => people.id),
  },
  (table) => [
    check("calendar_feeds_hash_form", sql`${table.tokenHash} ~ '^[0-9a-f]{64}$'`),
    check(
      "calendar_feeds_withdrawn_by_somebody",
      sql`(${table.withdrawnAt} is null) = (${table.withdrawnBy} is null)`,
    ),
    // One address at a time: a new one is made by withdrawing the old one.
    uniqueIndex("calendar_feeds_one_live")
      .on(sql`(${table.withdrawnAt} is null)`)
      .where(sql`${table.withdrawnAt} is null`),
  ],
);
