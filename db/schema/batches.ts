import { sql } from "drizzle-orm";
import { check, integer, pgTable, primaryKey, text, timestamp } from "drizzle-orm/pg-core";
import { people } from "./people.ts";
import { runs } from "./plans.ts";

/** What is written down of a run beside its times, pieces and lots, which stand in tables of their own. */
export const batchRecords = pgTable(
  "batch_records",
  {
    runId: integer()
      .primaryKey()
      .references(() => runs.id),
    /** Of the room, in tenths of a degree Celsius; null: not measured. */
    roomDecidegrees: integer(),
    /** Relative humidity of the room's air. */
    humidityPercent: integer(),
    /** What went otherwise than it should. */
    note: text().notNull().default(""),
    /** How often it was written: who writes on top of what he has not seen is told so. */
    version: integer().notNull(),
  },
  (table) => [
    check("batch_records_room", sql`${table.roomDecidegrees} between -200 and 600`),
    check("batch_records_humidity", sql`${table.humidityPercent} between 0 and 100`),
    check("batch_records_note", sql`length(${table.note}) <= 1000`),
    check("batch_records_version", sql`${table.version} >= 1`),
  ],
);

/** Sprays of alcohol that a bowl was given after squeeze tests. */
export const batchSprays = pgTable(
  "batch_sprays",
  {
    runId: integer()
      .notNull()
      .references(() => runs.id),
    /** Counted from 1. */
    bowl: integer().notNull(),
    sprays: integer().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.runId, table.bowl] }),
    check("batch_sprays_bowl", sql`${table.bowl} between 1 and 10000`),
    check("batch_sprays_count", sql`${table.sprays} between 0 and 999`),
  ],
);

/** A part of the recipe that was weighed into a bowl, ticked off by somebody. */
export const batchTicks = pgTable(
  "batch_ticks",
  {
    runId: integer()
      .notNull()
      .references(() => runs.id),
    bowl: integer().notNull(),
    /** The part's place in the recipe the run is mixed by. */
    place: integer().notNull(),
    at: timestamp({ withTimezone: true }).notNull(),
    personId: integer().references(() => people.id),
  },
  (table) => [
    primaryKey({ columns: [table.runId, table.bowl, table.place] }),
    check("batch_ticks_bowl", sql`${table.bowl} between 1 and 10000 and ${table.place} >= 0`),
  ],
);
