import { sql } from "drizzle-orm";
import { check, index, integer, pgTable, text, timestamp } from "drizzle-orm/pg-core";

/**
 * How often something was asked for from one place within a stretch of time; several servers count together here. Not
 * logged (see its migration): after a crash of the database counting begins anew, which costs nobody anything.
 */
export const rateCounts = pgTable(
  "rate_counts",
  {
    /** A seal over what was asked for and from where: the table tells nobody who was here. */
    key: text().primaryKey(),
    asked: integer().notNull(),
    /** From then on it counts from one again. */
    endsAt: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [
    check("rate_counts_asked", sql`${table.asked} > 0`),
    // What is over is swept away by its end.
    index("rate_counts_by_end").on(table.endsAt),
  ],
);
