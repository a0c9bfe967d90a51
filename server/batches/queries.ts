import { and, asc, desc, eq, inArray, sql } from "drizzle-orm";
import { alias } from "drizzle-orm/pg-core";
import type { Database } from "../../db/connect.ts";
import { airReadings } from "../../db/schema/air.ts";
import { batchRecords, batchSprays, batchTicks } from "../../db/schema/batches.ts";
import { bowls } from "../../db/schema/bowls.ts";
import { changes } from "../../db/schema/changes.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { people } from "../../db/schema/people.ts";
import { runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { recipes } from "../../db/schema/recipes.ts";
import { shapes, workshop } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { blendLook } from "../products/blendLook.ts";
import { recipeOfRun } from "../recipes/inForce.ts";
import { readParts } from "../recipes/queries.ts";
import { usesOfRun } from "../supplies/ledgerQueries.ts";
import { suggestLots } from "../supplies/suggestLots.ts";

/** A run with what its sheet says of it; undefined where there is none. */
export async function findBatch(db: Database, runId: number) {
  const run = await findRun(db, runId);
  if (!run) return undefined;
  const [record] = await db.select().from(batchRecords).where(eq(batchRecords.runId, runId));
  const parts = run.recipeId === null ? [] : ((await readParts(db, [run.recipeId])).get(run.recipeId) ?? []);
  return {
    ...run,
    record: record ?? { roomDecidegrees: null, humidityPercent: null, note: "", version: 0 },
    parts,
    lots: await listPieces(db, runId),
    begun: await listBowls(db, runId),
    ticks: await listTicks(db, runId),
    sprays: await db.select().from(batchSprays).where(eq(batchSprays.runId, runId)),
    weighedFrom: await weighedFrom(db, run),
    writers: await listWriters(db, runId),
    air: await airOf(db, run.sessionDate),
  };
}

export type Batch = NonNullable<Awaited<ReturnType<typeof findBatch>>>;

/** Before its start by the recipe that would hold on its day. */
async function findRun(db: Database, runId: number) {
  const used = recipeOfRun();
  const [run] = await db
    .select({
      id: runs.id,
      state: runs.state,
      look: blendLook,
      bowls: runs.bowls,
      sessionDate: runs.sessionDate,
      sessionStartsAt: runs.sessionStartsAt,
      startedAt: runs.startedAt,
      formedAt: runs.formedAt,
      recipeId: used,
      recipeVersion: recipes.version,
      recipeCategory: recipes.category,
    })
    .from(runs)
    .innerJoin(blends, eq(blends.id, runs.blendId))
    .innerJoin(workshop, sql`true`)
    .leftJoin(recipes, eq(recipes.id, used))
    .where(eq(runs.id, runId));
  return run;
}

/** The lots of a run: what was asked, pressed, and lost by each cause so far. */
async function listPieces(db: Database, runId: number) {
  const lost = (cause: "cracked" | "stuck" | "swollen" | "sample") =>
    sql<number>`coalesce(-sum(${moves.units}) filter (where ${moves.cause} = ${cause}), 0)::integer`;
  return await db
    .select({
      id: lots.id,
      code: lots.code,
      state: lots.state,
      product: products.name,
      plannedUnits: sql<number>`${lots.plannedUnits}`,
      pieceMilligrams: shapes.pieceMilligrams,
      pressed: sql<number>`coalesce(sum(${moves.units}) filter (where ${moves.kind} = 'made'), 0)::integer`,
      cracked: lost("cracked"),
      stuck: lost("stuck"),
      swollen: lost("swollen"),
      sample: lost("sample"),
    })
    .from(lots)
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .leftJoin(moves, eq(moves.lotId, lots.id))
    .where(eq(lots.runId, runId))
    .groupBy(lots.id, products.id, shapes.id)
    .orderBy(asc(shapes.name), asc(products.name), asc(lots.id));
}

async function listBowls(db: Database, runId: number) {
  return await db
    .select({
      bowl: bowls.bowl,
      startedAt: bowls.startedAt,
      mixedAt: bowls.mixedAt,
      pressedAt: bowls.pressedAt,
      by: people.name,
    })
    .from(bowls)
    .leftJoin(people, eq(people.id, bowls.personId))
    .where(eq(bowls.runId, runId))
    .orderBy(asc(bowls.bowl));
}

async function listTicks(db: Database, runId: number) {
  return await db
    .select({ bowl: batchTicks.bowl, place: batchTicks.place, at: batchTicks.at, by: people.name })
    .from(batchTicks)
    .leftJoin(people, eq(people.id, batchTicks.personId))
    .where(eq(batchTicks.runId, runId))
    .orderBy(asc(batchTicks.bowl), asc(batchTicks.place));
}

/** The lots of each ingredient: those it was booked from, or, before its start, those to take, first expired first. */
async function weighedFrom(
  db: Database,
  {
    id,
    startedAt,
    sessionDate,
  }: { readonly id: number; readonly startedAt: Date | null; readonly sessionDate: string },
): Promise<ReadonlyMap<number, readonly string[]>> {
  if (startedAt === null) {
    const suggested = await suggestLots(db, id, sessionDate);
    return new Map(suggested.map(({ supplyId, lots: its }) => [supplyId, its.map(codeWords)]));
  }
  const uses = groupBy(await usesOfRun(db, id), ({ supplyId }) => supplyId);
  return new Map(
    [...uses].map(([supplyId, its]) => [
      supplyId,
      its.map(({ code, supplierLot }) => codeWords({ code: code ?? "", supplierLot: supplierLot ?? "" })),
    ]),
  );
}

/** Our code and the supplier's: "K7Q (supplier's 22-118)"; what no lot had is said as that. */
function codeWords({ code, supplierLot }: { readonly code: string; readonly supplierLot: string }): string {
  if (code === "") return "beyond the books";
  return supplierLot === "" ? code : `${code} (supplier's ${supplierLot})`;
}

/** The air as it was read off last on a day; null where nobody did. */
async function airOf(db: Database, day: string) {
  const [reading] = await db
    .select({ celsiusTenths: airReadings.celsiusTenths, humidityTenths: airReadings.humidityTenths })
    .from(airReadings)
    .where(eq(airReadings.onDate, day))
    .orderBy(desc(airReadings.at), desc(airReadings.id))
    .limit(1);
  return reading ?? null;
}

/** Everybody who had a hand in a run or wrote on its sheet, in the order they first did. */
async function listWriters(db: Database, runId: number): Promise<readonly string[]> {
  const done = alias(changes, "done");
  const itsLots = db.select({ id: lots.id }).from(lots).where(eq(lots.runId, runId));
  const rows = await db
    .select({ name: people.name })
    .from(done)
    .innerJoin(people, eq(people.id, done.personId))
    .where(
      sql`${and(eq(done.subject, "run"), eq(done.subjectId, runId))}
        or ${and(eq(done.subject, "lot"), inArray(done.subjectId, itsLots), inArray(done.what, ["pressed", "unmolded", "turned"]))}`,
    )
    .groupBy(people.id)
    .orderBy(sql`min(${done.id})`);
  return rows.map(({ name }) => name);
}
