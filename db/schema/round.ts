import { sql } from "drizzle-orm";
import { check, index, integer, pgTable, primaryKey, smallint, uniqueIndex } from "drizzle-orm/pg-core";
import { customers } from "./customers.ts";

/** Where the round begins and ends, and where its stops are. */
export const roundPlaces = pgTable(
  "round_places",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** Null: the workshop itself. */
    customerId: integer().references(() => customers.id),
    /** In microdegrees, north and east positive; both or neither. */
    latitudeMicro: integer(),
    longitudeMicro: integer(),
  },
  (table) => [
    uniqueIndex("round_places_one_a_customer").on(table.customerId),
    uniqueIndex("round_places_one_workshop").on(sql`(1)`).where(sql`${table.customerId} is null`),
    check(
      "round_places_point",
      sql`num_nulls(${table.latitudeMicro}, ${table.longitudeMicro}) = 2
        or (${table.latitudeMicro} between -90000000 and 90000000 and ${table.longitudeMicro} between -180000000 and 180000000)`,
    ),
  ],
);

/** How long it takes between two places, as somebody entered it; the same both ways. */
export const roundMinutes = pgTable(
  "round_minutes",
  {
    /** The place with the smaller number. */
    oneId: integer()
      .notNull()
      .references(() => roundPlaces.id),
    otherId: integer()
      .notNull()
      .references(() => roundPlaces.id),
    minutes: smallint().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.oneId, table.otherId] }),
    check("round_minutes_once_a_pair", sql`${table.oneId} < ${table.otherId}`),
    check("round_minutes_range", sql`${table.minutes} between 0 and 600`),
    index("round_minutes_by_other").on(table.otherId),
  ],
);

/** How the shop drives its round. One row; before there is one, the usual numbers. */
export const roundDriving = pgTable(
  "round_driving",
  {
    id: smallint().primaryKey().default(1),
    kilometresAnHour: smallint().notNull(),
    /** How much longer the road is than the straight line, in per cent of it. */
    roadPercent: smallint().notNull(),
    /** At each door. */
    doorMinutes: smallint().notNull(),
    /** When the round leaves the workshop, in minutes from local midnight. */
    leavesMinute: smallint().notNull(),
  },
  (table) => [
    check("round_driving_only_one", sql`${table.id} = 1`),
    check("round_driving_speed", sql`${table.kilometresAnHour} between 3 and 130`),
    check("round_driving_road", sql`${table.roadPercent} between 100 and 300`),
    check("round_driving_door", sql`${table.doorMinutes} between 0 and 120`),
    check("round_driving_leaves", sql`${table.leavesMinute} between 0 and 1439`),
  ],
);
