import { sql } from "drizzle-orm";
import { check, integer, pgTable, primaryKey, timestamp } from "drizzle-orm/pg-core";
import { people } from "./people.ts";
import { runs } from "./plans.ts";

/** How far each bowl of a run is, once somebody has begun it. */
export const bowls = pgTable(
  "bowls",
  {
    runId: integer()
      .notNull()
      .references(() => runs.id),
    /** Counted from 1, up to the run's bowls. */
    bowl: integer().notNull(),
    startedAt: timestamp({ withTimezone: true }).notNull(),
    /** When the mix was right and pressing began. */
    mixedAt: timestamp({ withTimezone: true }),
    /** When all of it was pressed. */
    pressedAt: timestamp({ withTimezone: true }),
    /** Who began it. */
    personId: integer().references(() => people.id),
  },
  (table) => [
    primaryKey({ columns: [table.runId, table.bowl] }),
    check("bowls_counted_from_one", sql`${table.bowl} between 1 and 10000`),
    check("bowls_pressed_after_mixing", sql`${table.pressedAt} is null or ${table.mixedAt} is not null`),
    check(
      "bowls_times_in_order",
      sql`${table.startedAt} <= coalesce(${table.mixedAt}, ${table.startedAt}) and coalesce(${table.mixedAt}, ${table.startedAt}) <= coalesce(${table.pressedAt}, ${table.mixedAt}, ${table.startedAt})`,
    ),
  ],
);
