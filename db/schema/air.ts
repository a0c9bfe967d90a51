import { sql } from "drizzle-orm";
import { check, date, index, integer, pgTable, smallint, timestamp } from "drizzle-orm/pg-core";
import { lots } from "./lots.ts";
import { people } from "./people.ts";

/** The air of the workshop as somebody read it off. */
export const airReadings = pgTable(
  "air_readings",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** The workshop's own date of the reading; the newest of a date says what that date was like. */
    onDate: date().notNull(),
    at: timestamp({ withTimezone: true }).notNull(),
    celsiusTenths: smallint().notNull(),
    /** Relative humidity, in tenths of a per cent. */
    humidityTenths: smallint().notNull(),
    personId: integer()
      .notNull()
      .references(() => people.id),
  },
  (table) => [
    check("air_readings_range", isAir(table.celsiusTenths, table.humidityTenths)),
    index("air_readings_by_date").on(table.onDate, table.at),
  ],
);

/** Somebody felt a lot in its molds, and it was still damp. */
export const dampLooks = pgTable(
  "damp_looks",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    lotId: integer()
      .notNull()
      .references(() => lots.id),
    at: timestamp({ withTimezone: true }).notNull(),
    personId: integer()
      .notNull()
      .references(() => people.id),
  },
  (table) => [index("damp_looks_by_lot").on(table.lotId, table.at)],
);

/** From 0 to 50 degrees, and not wholly without vapour. */
export function isAir(celsiusTenths: unknown, humidityTenths: unknown) {
  return sql`${celsiusTenths} between 0 and 500 and ${humidityTenths} between 1 and 1000`;
}
