import { and, eq, inArray } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { runs } from "../../db/schema/plans.ts";
import { recipeParts } from "../../db/schema/recipes.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { shapes, workshop } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { listPlannedSessions, type PlannedSession } from "../plans/plannedSessions.ts";
import { recipeOfRun } from "../recipes/inForce.ts";
import type { TimetableFacts } from "../timetable/facts.ts";
import { type LyingLot, listLyingLots, listOpenRuns, type OpenRun } from "./queries.ts";

/** Everything at the bench, and what its timetable is made from. */
export interface BenchFacts {
  readonly runs: readonly OpenRun[];
  readonly lots: readonly LyingLot[];
  /** The sessions of the plan that is followed. */
  readonly sessions: readonly PlannedSession[];
  readonly timetable: TimetableFacts;
}

export async function readBenchFacts(db: Database): Promise<BenchFacts> {
  const [numbers] = await db.select().from(workshop);
  if (!numbers) throw new Error("There is no workshop to read");
  const [openRuns, lots, sessions, shapeRows] = await Promise.all([
    listOpenRuns(db),
    listLyingLots(db, numbers),
    listPlannedSessions(db),
    db.select().from(shapes),
  ]);
  const scents = await readScents(
    db,
    openRuns.map(({ id }) => id),
  );
  return {
    runs: openRuns,
    lots,
    sessions,
    timetable: {
      workshop: numbers,
      sessions,
      runs: openRuns.map((run) => ({
        ...run,
        runId: run.id,
        scents: scents.get(run.id) ?? null,
        lots: run.lots.map(({ id, shapeId, plannedUnits, state }) => ({
          ...{ lotId: id, shapeId, units: plannedUnits },
          isPressed: state !== "planned" && state !== "mixing",
        })),
      })),
      lying: lots.flatMap(({ id, formedAt, unmoldDueAt, readyDueAt, ...lot }) =>
        formedAt && unmoldDueAt && readyDueAt
          ? [{ ...lot, lotId: id, formedAt, unmoldDueAt, readyDueAt }]
          : [],
      ),
      shapes: shapeRows.map((shape) => ({ ...shape, shapeId: shape.id })),
    },
  };
}

/**
 * The scent oils of each run, by the recipe it is mixed by, or would be on its day; a run without a recipe is left out,
 * as nobody knows.
 */
async function readScents(
  db: Database,
  runIds: readonly number[],
): Promise<ReadonlyMap<number, readonly number[]>> {
  const mixedBy = await db
    .select({
      runId: runs.id,
      recipeId: recipeOfRun(),
    })
    .from(runs)
    .where(inArray(runs.id, [...runIds]));
  const recipeIds = mixedBy.flatMap(({ recipeId }) => (recipeId === null ? [] : [recipeId]));
  const oils = await db
    .select({ recipeId: recipeParts.recipeId, supplyId: recipeParts.supplyId })
    .from(recipeParts)
    .innerJoin(supplies, eq(supplies.id, recipeParts.supplyId))
    .where(and(inArray(recipeParts.recipeId, recipeIds), eq(supplies.kind, "scent")));
  const byRecipe = groupBy(oils, ({ recipeId }) => recipeId);
  return new Map(
    mixedBy.flatMap(({ runId, recipeId }) =>
      recipeId === null
        ? []
        : [[runId, (byRecipe.get(recipeId) ?? []).map(({ supplyId }) => supplyId)] as const],
    ),
  );
}
