import { sql } from "drizzle-orm";
import { check, integer, pgTable, primaryKey, timestamp } from "drizzle-orm/pg-core";
import { lots } from "./lots.ts";
import { people } from "./people.ts";

/** When the pieces of a lot were turned over in their molds. */
export const turnings = pgTable(
  "turnings",
  {
    lotId: integer()
      .notNull()
      .references(() => lots.id),
    /** The first turning is 1: two taps for the same one meet here. */
    turning: integer().notNull(),
    at: timestamp({ withTimezone: true }).notNull(),
    personId: integer().references(() => people.id),
  },
  (table) => [
    primaryKey({ columns: [table.lotId, table.turning] }),
    check("turnings_counted_from_one", sql`${table.turning} >= 1`),
  ],
);
