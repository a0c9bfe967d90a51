import { sql } from "drizzle-orm";
import {
  bigint,
  check,
  date,
  integer,
  jsonb,
  numeric,
  pgTable,
  text,
  timestamp,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { people } from "./people.ts";
import { blends } from "./products.ts";
import { recipes } from "./recipes.ts";

/** A plan, kept whole with the question it answered, so that it can be looked at and planned again later. */
export const plans = pgTable(
  "plans",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    state: text({ enum: ["proposed", "accepted", "superseded"] }).notNull(),
    /** The case as the engine was given it. */
    planCase: jsonb().notNull(),
    /** The plan as the engine answered it. */
    answer: jsonb().notNull(),
    /** What holds the workshop up, as the engine answered it. */
    holdUps: jsonb().notNull(),
    /** For each session of the case its true start and end: [{ "startsAt", "endsAt" }] as ISO 8601 instants. */
    sessionInstants: jsonb().notNull(),
    seed: integer().notNull(),
    engineVersion: text().notNull(),
    /** The newest change that the case already knew of; what came later may make the plan out of date. */
    asOfChange: bigint({ mode: "number" }).notNull(),
    plannedAt: timestamp({ withTimezone: true }).notNull(),
    plannedBy: integer()
      .notNull()
      .references(() => people.id),
    acceptedAt: timestamp({ withTimezone: true }),
    acceptedBy: integer().references(() => people.id),
  },
  (table) => [
    check("plans_state_known", sql`${table.state} in ('proposed', 'accepted', 'superseded')`),
    check(
      "plans_accepted_has_its_time",
      sql`(${table.state} = 'proposed') = (${table.acceptedAt} is null) and (${table.acceptedAt} is null) = (${table.acceptedBy} is null)`,
    ),
    // At any time the workshop follows at most one plan.
    uniqueIndex("plans_one_accepted").on(table.state).where(sql`${table.state} = 'accepted'`),
  ],
);

/** All bowls of one blend mixed back to back in one session, from an accepted plan. */
export const runs = pgTable(
  "runs",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    planId: integer()
      .notNull()
      .references(() => plans.id),
    blendId: integer()
      .notNull()
      .references(() => blends.id),
    /** The workshop's own date of the session. */
    sessionDate: date().notNull(),
    sessionStartsAt: timestamp({ withTimezone: true }).notNull(),
    sessionEndsAt: timestamp({ withTimezone: true }).notNull(),
    bowls: integer().notNull(),
    /** The version it is mixed by, kept from its start on; null where its blend had none. */
    recipeId: integer().references(() => recipes.id),
    dryingFactor: numeric({ precision: 4, scale: 2, mode: "number" }).notNull(),
    /** withdrawn: a later plan took its place before it was started. */
    state: text({ enum: ["planned", "mixing", "formed", "withdrawn"] }).notNull(),
    startedAt: timestamp({ withTimezone: true }),
    formedAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    check("runs_state_known", sql`${table.state} in ('planned', 'mixing', 'formed', 'withdrawn')`),
    check("runs_bowls", sql`${table.bowls} between 1 and 10000`),
    check("runs_session_times", sql`${table.sessionStartsAt} < ${table.sessionEndsAt}`),
    check(
      "runs_started_has_its_time",
      sql`(${table.state} in ('mixing', 'formed')) = (${table.startedAt} is not null)`,
    ),
    check("runs_recipe_from_the_start", sql`${table.recipeId} is null or ${table.startedAt} is not null`),
    check("runs_formed_has_its_time", sql`(${table.state} = 'formed') = (${table.formedAt} is not null)`),
    // A plan has one run a blend and session. One that was begun early may stand beside a later plan's second one.
    uniqueIndex("runs_one_planned_per_blend_and_session")
      .on(table.blendId, table.sessionStartsAt)
      .where(sql`${table.state} = 'planned'`),
  ],
);
