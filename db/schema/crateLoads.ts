import { sql } from "drizzle-orm";
import { check, integer, pgTable, primaryKey, timestamp } from "drizzle-orm/pg-core";
import { lots } from "./lots.ts";
import { orderLines } from "./orders.ts";
import { people } from "./people.ts";

/** What of a market's crate stands in the car: so many pieces of a lot for a line, ticked by somebody. */
export const crateLoads = pgTable(
  "crate_loads",
  {
    orderLineId: integer()
      .notNull()
      .references(() => orderLines.id),
    lotId: integer()
      .notNull()
      .references(() => lots.id),
    /** As many as were packed when it was ticked. */
    units: integer().notNull(),
    loadedBy: integer()
      .notNull()
      .references(() => people.id),
    loadedAt: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.orderLineId, table.lotId] }),
    check("crate_loads_units", sql`${table.units} > 0`),
  ],
);
