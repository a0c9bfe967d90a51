import { sql } from "drizzle-orm";
import {
  boolean,
  check,
  date,
  integer,
  numeric,
  pgTable,
  smallint,
  text,
  timestamp,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { isShare, isUnitPrice, minorUnits } from "./money.ts";
import { taxGroups } from "./taxes.ts";

/** The one workshop this server serves. Its row is missing until the owner has chosen how to begin. */
export const workshop = pgTable(
  "workshop",
  {
    id: smallint().primaryKey().default(1),
    name: text().notNull(),
    /** IANA name, such as "Europe/Lisbon". Sessions are local clock times in it. */
    timeZone: text().notNull(),
    trays: integer().notNull(),
    mixers: integer().notNull(),
    bowlMilligrams: integer().notNull(),
    minBowlMilligrams: integer().notNull(),
    /** How long one bowl ties up one mixer. */
    bowlMinutes: integer().notNull(),
    /** Hand minutes a bowl: weigh, sift, mix. */
    mixMinutes: numeric({ precision: 6, scale: 2, mode: "number" }).notNull(),
    /** Hand minutes a run: clean-down after a blend. */
    cleanMinutes: numeric({ precision: 6, scale: 2, mode: "number" }).notNull(),
    /** From forming to the first turning of what dries, and from each turning to the next. Common practice, no source. */
    firstTurnMinutes: integer().notNull().default(270),
    everyTurnMinutes: integer().notNull().default(180),
    /** How far ahead the planner looks. */
    horizonDays: integer().notNull(),
    /** ISO 4217. Every amount here is in its minor units; it stays as it is once there are amounts. */
    currency: text().notNull().default("EUR"),
    /** Whether the money of each line is rounded, or only the sums of an order; a half is rounded up. */
    rounding: text({ enum: ["line", "order"] })
      .notNull()
      .default("line"),
    /** The group of customers who are given none. Null: they pay no tax. */
    usualTaxGroupId: integer().references(() => taxGroups.id),
    /** What making a piece costs where its product does not say, in basis points of its usual retail price without tax. */
    makingCostBasisPoints: integer().notNull().default(4000),
    /** What a piece that comes home from a market has lost, in basis points of what making it cost. */
    leftoverLossBasisPoints: integer().notNull().default(5000),
    /** By which price a supply counts in what a piece costs: the one that was paid last, or the average of what is there. */
    supplyCost: text({ enum: ["last-paid", "average"] })
      .notNull()
      .default("last-paid"),
    /** What an hour of hands costs; null: nobody said, and hands are not counted. */
    hourMinor: minorUnits(),
    /** The air of a day on which drying takes as long as the shapes say, as in air readings; null: not said yet. */
    referenceCelsiusTenths: smallint(),
    referenceHumidityTenths: smallint(),
    createdAt: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [
    check("workshop_only_one", sql`${table.id} = 1`),
    check("workshop_counts", sql`${table.trays} between 0 and 10000 and ${table.mixers} between 0 and 100`),
    check(
      "workshop_bowl",
      sql`${table.bowlMilligrams} > 0 and ${table.minBowlMilligrams} >= 0 and ${table.minBowlMilligrams} <= ${table.bowlMilligrams}`,
    ),
    check(
      "workshop_minutes",
      sql`${table.bowlMinutes} > 0 and ${table.mixMinutes} >= 0 and ${table.cleanMinutes} >= 0`,
    ),
    check(
      "workshop_turnings",
      sql`${table.firstTurnMinutes} between 15 and 1440 and ${table.everyTurnMinutes} between 15 and 1440`,
    ),
    check("workshop_horizon", sql`${table.horizonDays} between 3 and 120`),
    check("workshop_currency_form", sql`${table.currency} ~ '^[A-Z]{3}$'`),
    check("workshop_rounding_known", sql`${table.rounding} in ('line', 'order')`),
    check("workshop_making_cost", isShare(table.makingCostBasisPoints)),
    check("workshop_leftover_loss", isShare(table.leftoverLossBasisPoints)),
    check(
      "workshop_reference_air",
      sql`num_nulls(${table.referenceCelsiusTenths}, ${table.referenceHumidityTenths}) = 2
        or (${table.referenceCelsiusTenths} between 0 and 500 and ${table.referenceHumidityTenths} between 1 and 999)`,
    ),
    check("workshop_supply_cost_known", sql`${table.supplyCost} in ('last-paid', 'average')`),
    check("workshop_hour", isUnitPrice(table.hourMinor)),
  ],
);

/** A form the mix is pressed into, with its own mold sets. */
export const shapes = pgTable(
  "shapes",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** Short and stable, such as "ball-60"; what files and plans call it. */
    code: text().notNull().unique(),
    name: text().notNull(),
    moldSets: integer().notNull(),
    /** half: one half stays with the piece; whole: the closed set stays; none: turned out at once. */
    driesIn: text({ enum: ["half", "whole", "none"] }).notNull(),
    /** From forming to unmolding; with "none" until firm enough to lift off. */
    moldMinutes: integer().notNull(),
    /** On the tray after unmolding, before packing. */
    restMinutes: integer().notNull(),
    unitsPerTray: integer().notNull(),
    /** Mix used for one piece, handling loss included. */
    pieceMilligrams: integer().notNull(),
    formSeconds: numeric({ precision: 7, scale: 2, mode: "number" }).notNull(),
    turnSeconds: numeric({ precision: 7, scale: 2, mode: "number" }).notNull(),
    unmoldSeconds: numeric({ precision: 7, scale: 2, mode: "number" }).notNull(),
    packSeconds: numeric({ precision: 7, scale: 2, mode: "number" }).notNull(),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    check(
      "shapes_code_form",
      sql`${table.code} ~ '^[a-z0-9]+(-[a-z0-9]+)*$' and length(${table.code}) <= 40`,
    ),
    check("shapes_dries_in_known", sql`${table.driesIn} in ('half', 'whole', 'none')`),
    check(
      "shapes_counts",
      sql`${table.moldSets} between 0 and 100000 and ${table.unitsPerTray} between 1 and 10000 and ${table.pieceMilligrams} > 0`,
    ),
    check("shapes_hours", sql`${table.moldMinutes} >= 0 and ${table.restMinutes} >= 0`),
    check(
      "shapes_seconds",
      sql`${table.formSeconds} >= 0 and ${table.turnSeconds} >= 0 and ${table.unmoldSeconds} >= 0 and ${table.packSeconds} >= 0`,
    ),
  ],
);

/**
 * The sessions of an ordinary week. Minutes are counted from local midnight. That two sessions of one
 * day never overlap is an exclusion constraint in the migrations.
 */
export const weekSessions = pgTable(
  "week_sessions",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** ISO 8601: 1 Monday .. 7 Sunday. */
    weekday: smallint().notNull(),
    startsMinute: smallint().notNull(),
    endsMinute: smallint().notNull(),
    /** People x minutes actually available for the work. */
    handMinutes: integer().notNull(),
    /** False: unmolding, turning and packing only. */
    mixing: boolean().notNull(),
  },
  (table) => [
    check("week_sessions_weekday", sql`${table.weekday} between 1 and 7`),
    // Between 01:00 and 23:00, so that a clock change never carries a session over midnight on the
    // planner's clock of elapsed minutes.
    check(
      "week_sessions_times",
      sql`${table.startsMinute} >= 60 and ${table.endsMinute} <= 1380 and ${table.startsMinute} < ${table.endsMinute}`,
    ),
    check("week_sessions_hands", sql`${table.handMinutes} between 0 and 100000`),
  ],
);

/** What one date does differently: a day off, an extra session, damp air. */
export const calendarExceptions = pgTable(
  "calendar_exceptions",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    onDate: date().notNull(),
    kind: text({ enum: ["day-off", "extra", "damp"] }).notNull(),
    startsMinute: smallint(),
    endsMinute: smallint(),
    handMinutes: integer(),
    mixing: boolean(),
    /** Multiplies the drying and rest hours of what is formed on that date. */
    dryingFactor: numeric({ precision: 4, scale: 2, mode: "number" }),
    note: text().notNull().default(""),
  },
  (table) => [
    check("calendar_exceptions_kind_known", sql`${table.kind} in ('day-off', 'extra', 'damp')`),
    check(
      "calendar_exceptions_extra_is_a_session",
      sql`case when ${table.kind} = 'extra'
        then ${table.startsMinute} >= 60 and ${table.endsMinute} <= 1380 and ${table.startsMinute} < ${table.endsMinute}
          and ${table.handMinutes} between 0 and 100000 and ${table.mixing} is not null
          and num_nulls(${table.startsMinute}, ${table.endsMinute}, ${table.handMinutes}) = 0
        else num_nonnulls(${table.startsMinute}, ${table.endsMinute}, ${table.handMinutes}, ${table.mixing}) = 0 end`,
    ),
    check(
      "calendar_exceptions_damp_has_its_factor",
      sql`case when ${table.kind} = 'damp'
        then ${table.dryingFactor} is not null and ${table.dryingFactor} between 0.25 and 10
        else ${table.dryingFactor} is null end`,
    ),
    // A date is off once, and damp once; it may have several extra sessions.
    uniqueIndex("calendar_exceptions_once_a_date")
      .on(table.onDate, table.kind)
      .where(sql`${table.kind} <> 'extra'`),
  ],
);
