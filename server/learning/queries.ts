import { and, asc, desc, eq, isNull, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { plans, runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes, workshop } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { type LossCause, lossCauses, lostUnits } from "../shelf/lot.ts";
import { type LossRate, lossRate } from "./lossRate.ts";
import { type LearnedMean, type Measured, meanOf } from "./meanOf.ts";
import { type PressedRun, secondsAPiece } from "./pressing.ts";

/** Older batches than so many of a product, or runs of a workshop, hardly count any more. */
const MOST_BATCHES = 60;
const MOST_RUNS = 400;

/** What a product has lost, beside what the plan counts on. */
export interface LearnedLosses {
  readonly productId: number;
  readonly name: string;
  readonly look: Pick<typeof blends.$inferSelect, "name" | "colour" | "pattern">;
  /** What the plan expects. */
  readonly lossBasisPoints: number;
  /** Null before its first batch is ready. */
  readonly learned: LossRate | null;
  /** Pieces lost in these batches, by cause. */
  readonly causes: Readonly<Record<LossCause, number>>;
}

/** How long pressing a shape took, beside what the plan counts. */
export interface LearnedPressing {
  readonly shapeId: number;
  readonly name: string;
  readonly formSeconds: number;
  /** Hand seconds a piece; null before its second run. */
  readonly learned: LearnedMean | null;
  /** The same of each blend alone. */
  readonly blends: readonly { readonly name: string; readonly learned: LearnedMean }[];
}

export interface LearnedFigures {
  readonly losses: readonly LearnedLosses[];
  readonly pressing: readonly LearnedPressing[];
  /** Runs whose clock tells nothing of the pressing. */
  readonly leftOut: number;
}

/** What the batches that were made teach, for everything in use. */
export async function readLearned(db: Database | Transaction): Promise<LearnedFigures> {
  const { runs: pressed, leftOut } = await readPressing(db);
  return { losses: await readLosses(db), pressing: await pressingByShape(db, pressed), leftOut };
}

/** The newest batches of each product in use that came to the shelf. Losses on the shelf are not theirs. */
async function readLosses(db: Database | Transaction): Promise<readonly LearnedLosses[]> {
  const batches = await db
    .select({
      productId: lots.productId,
      pressed: sql<number>`(sum(${moves.units}) filter (where ${moves.kind} = 'made'))::integer`,
      cracked: lostBy("cracked"),
      stuck: lostBy("stuck"),
      swollen: lostBy("swollen"),
      sample: lostBy("sample"),
      place: sql<number>`row_number() over (partition by ${lots.productId} order by ${lots.formedAt} desc, ${lots.id} desc)::integer`,
    })
    .from(lots)
    .innerJoin(moves, and(eq(moves.lotId, lots.id), sql`${moves.at} <= ${lots.readyAt}`))
    .where(and(eq(lots.state, "ready"), sql`${lots.runId} is not null`))
    .groupBy(lots.id)
    .orderBy(desc(lots.formedAt), desc(lots.id));
  const byProduct = groupBy(
    batches.filter(({ place }) => place <= MOST_BATCHES),
    ({ productId }) => productId,
  );
  const rows = await db
    .select({ product: products, look: blends })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(isNull(products.retiredAt))
    .orderBy(asc(products.name), asc(products.id));
  return rows.map(({ product, look }) => {
    const own = byProduct.get(product.id) ?? [];
    const of = (cause: LossCause) => own.reduce((sum, batch) => sum + batch[cause], 0);
    return {
      productId: product.id,
      name: product.name,
      look,
      lossBasisPoints: product.lossBasisPoints,
      learned: lossRate(own.map((batch) => ({ pressed: batch.pressed, lost: lostUnits(batch) }))),
      causes: Object.fromEntries(lossCauses.map((cause) => [cause, of(cause)])) as Record<LossCause, number>,
    };
  });
}

function lostBy(cause: LossCause) {
  return sql<number>`coalesce(-sum(${moves.units}) filter (where ${moves.kind} = 'lost' and ${moves.cause} = ${cause}), 0)::integer`;
}

interface PressedPiece extends Measured {
  readonly shapeId: number;
  readonly blendId: number;
}

/** The newest runs, each told by its clock where that can be. */
async function readPressing(db: Database | Transaction) {
  const rows = await db
    .select({
      runId: runs.id,
      minutes: sql<number>`(extract(epoch from ${runs.formedAt} - ${runs.startedAt}) / 60)::float8`,
      pressingMinutes: pressingMinutesOf(),
      hands: handsOf(),
      bowls: runs.bowls,
      mixMinutes: workshop.mixMinutes,
      crowded: sql<boolean>`exists (
        select from runs as other where other.id <> ${runs.id} and other.started_at < ${runs.formedAt}
          and coalesce(other.formed_at, 'infinity') > ${runs.startedAt})`,
      shapeId: products.shapeId,
      blendId: products.blendId,
      formSeconds: shapes.formSeconds,
      pressed: sql<number>`(select sum(${moves.units})::integer from ${moves}
        where ${moves.lotId} = ${lots.id} and ${moves.kind} = 'made')`,
    })
    .from(runs)
    .innerJoin(lots, and(eq(lots.runId, runs.id), sql`${lots.formedAt} is not null`))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .innerJoin(plans, eq(plans.id, runs.planId))
    .innerJoin(workshop, sql`true`)
    .where(eq(runs.state, "formed"))
    .orderBy(desc(runs.formedAt), desc(runs.id), asc(lots.id))
    .limit(MOST_RUNS * 2);
  const pieces: PressedPiece[] = [];
  let leftOut = 0;
  for (const own of groupBy(rows, ({ runId }) => runId).values()) {
    const [run] = own;
    if (run === undefined) continue;
    const asked: PressedRun = { ...run, lots: own };
    const seconds = secondsAPiece(asked);
    if (seconds === null) leftOut += 1;
    else
      own.forEach(({ shapeId, blendId, pressed }, place) => {
        pieces.push({ shapeId, blendId, pieces: pressed, value: seconds[place] ?? 0 });
      });
  }
  return { runs: pieces, leftOut };
}

/** By the taps of the run's bowls; null where one is missing, or a bowl was mixed while another was pressed. */
function pressingMinutesOf() {
  return sql<number | null>`(
    select case when count(*) = ${runs.bowls} and count(bowl.pressed_at) = ${runs.bowls} and not exists (
      select from bowls as mixed join bowls as pressed on pressed.run_id = mixed.run_id and pressed.bowl <> mixed.bowl
      where mixed.run_id = ${runs.id} and mixed.started_at < pressed.pressed_at and mixed.mixed_at > pressed.mixed_at)
      then (sum(extract(epoch from bowl.pressed_at - bowl.mixed_at)) / 60)::float8 end
    from bowls as bowl where bowl.run_id = ${runs.id})`;
}

/** Hand minutes for each minute of a run's session, from the question its plan answers. */
function handsOf() {
  return sql<number>`coalesce((
    select (session.value ->> 'handMinutes')::float8
      / (extract(epoch from ${runs.sessionEndsAt} - (instant.value ->> 'startsAt')::timestamptz) / 60)
    from jsonb_array_elements(${plans.sessionInstants}) with ordinality as instant(value, place)
    join jsonb_array_elements(${plans.planCase} -> 'sessions') with ordinality as session(value, place)
      on session.place = instant.place
    where (instant.value ->> 'endsAt')::timestamptz = ${runs.sessionEndsAt}
    limit 1), 1)::float8`;
}

async function pressingByShape(
  db: Database | Transaction,
  pressed: readonly PressedPiece[],
): Promise<readonly LearnedPressing[]> {
  const rows = await db
    .select({ shapeId: shapes.id, name: shapes.name, formSeconds: shapes.formSeconds })
    .from(shapes)
    .where(isNull(shapes.retiredAt))
    .orderBy(asc(shapes.name), asc(shapes.id));
  const names = new Map(
    (await db.select({ id: blends.id, name: blends.name }).from(blends)).map(({ id, name }) => [id, name]),
  );
  return rows.map((shape) => {
    const own = pressed.filter(({ shapeId }) => shapeId === shape.shapeId).slice(0, MOST_BATCHES);
    const byBlend = [...groupBy(own, ({ blendId }) => blendId)].flatMap(([blendId, of]) => {
      const learned = meanOf(of);
      return learned === null ? [] : [{ name: names.get(blendId) ?? "", learned }];
    });
    byBlend.sort((one, other) => (one.name < other.name ? -1 : 1));
    return { ...shape, learned: meanOf(own), blends: byBlend };
  });
}
