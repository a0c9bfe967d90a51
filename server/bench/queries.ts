import { and, asc, desc, eq, gt, inArray, max, or, sql } from "drizzle-orm";
import { alias } from "drizzle-orm/pg-core";
import type { Database } from "../../db/connect.ts";
import { bowls } from "../../db/schema/bowls.ts";
import { changes } from "../../db/schema/changes.ts";
import { lots } from "../../db/schema/lots.ts";
import { people } from "../../db/schema/people.ts";
import { plans, runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { recipes } from "../../db/schema/recipes.ts";
import { lotBalances } from "../../db/schema/sums.ts";
import { turnings } from "../../db/schema/turnings.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { blendLook } from "../products/blendLook.ts";
import { tookBeyond } from "../supplies/tookBeyond.ts";
import { nextTurning, type TurningHours } from "../timetable/turnings.ts";

/**
 * Runs that wait to be mixed or are being mixed: by session, light before dark, each with its lots. A run begun under
 * an earlier plan stays until it is pressed.
 */
export async function listOpenRuns(db: Database) {
  const rows = await selectOpenRuns(db);
  const begun = await readBegunBowls(
    db,
    rows.map(({ run }) => run.id),
  );
  return [...groupBy(rows, (row) => row.run.id).values()].flatMap((its) => {
    const [first] = its;
    if (!first) return [];
    const milligrams = its.reduce((sum, { lot }) => sum + lot.plannedUnits * lot.pieceMilligrams, 0);
    return [
      {
        ...first.run,
        look: first.look,
        milligrams,
        lots: its.map(({ lot }) => lot),
        begun: begun.get(first.run.id) ?? [],
      },
    ];
  });
}

export type OpenRun = Awaited<ReturnType<typeof listOpenRuns>>[number];

async function selectOpenRuns(db: Database) {
  return await db
    .select({
      run: {
        id: runs.id,
        state: sql<"planned" | "mixing">`${runs.state}`,
        blendId: runs.blendId,
        /** The version it was started by; null before its start, or where its blend had none. */
        recipeVersion: recipes.version,
        bowls: runs.bowls,
        shade: blends.shade,
        dryingFactor: runs.dryingFactor,
        sessionDate: runs.sessionDate,
        sessionStartsAt: runs.sessionStartsAt,
        sessionEndsAt: runs.sessionEndsAt,
        startedAt: runs.startedAt,
        startedBy: whoStarted(db),
        takesBeyond: tookBeyond(sql`${runs.id}`),
      },
      look: blendLook,
      lot: {
        id: lots.id,
        code: lots.code,
        state: lots.state,
        plannedUnits: sql<number>`${lots.plannedUnits}`,
        product: products.name,
        shapeId: shapes.id,
        shape: shapes.name,
        driesIn: shapes.driesIn,
        pieceMilligrams: shapes.pieceMilligrams,
      },
    })
    .from(runs)
    .innerJoin(plans, eq(plans.id, runs.planId))
    .innerJoin(blends, eq(blends.id, runs.blendId))
    .leftJoin(recipes, eq(recipes.id, runs.recipeId))
    .innerJoin(lots, eq(lots.runId, runs.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(or(eq(runs.state, "mixing"), and(eq(runs.state, "planned"), eq(plans.state, "accepted"))))
    .orderBy(
      asc(runs.sessionStartsAt),
      asc(blends.shade),
      asc(runs.id),
      asc(shapes.name),
      asc(products.name),
      asc(lots.id),
    );
}

/** Bowls of these runs that somebody has begun, in their order, by run. */
async function readBegunBowls(db: Database, runIds: readonly number[]) {
  const rows = await db
    .select()
    .from(bowls)
    .where(inArray(bowls.runId, [...runIds]))
    .orderBy(asc(bowls.runId), asc(bowls.bowl));
  return groupBy(rows, ({ runId }) => runId);
}

/** Name of the one who started the run last; null where it is not started. */
function whoStarted(db: Database) {
  const starts = alias(changes, "starts");
  return sql<string | null>`${db
    .select({ name: people.name })
    .from(starts)
    .innerJoin(people, eq(people.id, starts.personId))
    .where(and(eq(starts.subject, "run"), eq(starts.subjectId, runs.id), eq(starts.what, "started")))
    .orderBy(desc(starts.id))
    .limit(1)}`;
}

/**
 * Lots that lie on trays, by what they wait for next, with when they are to be turned. One without pieces waits for
 * nothing.
 */
export async function listLyingLots(db: Database, hours: TurningHours) {
  const rows = await selectLyingLots(db);
  return rows.map((lot) => {
    const { state, formedAt, unmoldDueAt } = lot;
    const turns = state === "drying" && formedAt !== null && unmoldDueAt !== null;
    return { ...lot, turnDueAt: turns ? nextTurning({ ...lot, formedAt, unmoldDueAt }, hours) : null };
  });
}

async function selectLyingLots(db: Database) {
  const turned = db
    .select({
      lotId: turnings.lotId,
      times: max(turnings.turning).as("times"),
      at: sql<Date | null>`max(${turnings.at})`.mapWith(turnings.at).as("turned_at"),
    })
    .from(turnings)
    .groupBy(turnings.lotId)
    .as("turned");
  return await db
    .select({
      ...lyingLot,
      state: sql<"drying" | "resting">`${lots.state}`,
      turnings: sql<number>`coalesce(${turned.times}, 0)`,
      turnedAt: turned.at,
    })
    .from(lots)
    .leftJoin(turned, eq(turned.lotId, lots.id))
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(and(inArray(lots.state, ["drying", "resting"]), gt(lotBalances.units, 0)))
    .orderBy(
      asc(sql`case ${lots.state} when 'drying' then ${lots.unmoldDueAt} else ${lots.readyDueAt} end`),
      asc(lots.id),
    );
}

export type LyingLot = Awaited<ReturnType<typeof listLyingLots>>[number];

/** Lots that became ready on the workshop's own date of `at`, newest first. */
export async function listReadySince(db: Database, at: Date, timeZone: string) {
  const dateIn = (instant: unknown) => sql`(${instant} at time zone ${timeZone})::date`;
  return await db
    .select({
      id: lots.id,
      code: lots.code,
      product: products.name,
      look: blendLook,
      units: lotBalances.units,
    })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(
      and(
        eq(lots.state, "ready"),
        gt(lotBalances.units, 0),
        eq(dateIn(lots.readyAt), dateIn(sql`${at.toISOString()}::timestamptz`)),
      ),
    )
    .orderBy(desc(lots.readyAt), desc(lots.id));
}

export type ReadyLot = Awaited<ReturnType<typeof listReadySince>>[number];

const lyingLot = {
  id: lots.id,
  code: lots.code,
  runId: lots.runId,
  product: products.name,
  shapeId: shapes.id,
  shape: shapes.name,
  driesIn: shapes.driesIn,
  turnSeconds: shapes.turnSeconds,
  look: blendLook,
  units: lotBalances.units,
  trays: lots.trays,
  formedAt: lots.formedAt,
  unmoldDueAt: lots.unmoldDueAt,
  unmoldedAt: lots.unmoldedAt,
  readyDueAt: lots.readyDueAt,
};
