import { and, asc, eq, inArray, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";
import { plans, runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { recipeParts } from "../../db/schema/recipes.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { packingParts } from "../../db/schema/supplyLots.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { dateAway } from "../../views/format/dates.ts";
import { groupBy } from "../basics/groupBy.ts";
import { recipeOn } from "../recipes/inForce.ts";
import { productFacts, supplyByProduct, unpackedDemand } from "../rollup/queries.ts";
import { rollUp } from "../rollup/rollUp.ts";
import { type DatedMix, explodeMixes, type MixPart, type NeedFor, packWith } from "./explosion.ts";

/** What supplies are needed for. */
export type Purpose =
  /** A run of a plan. */
  | { readonly kind: "run"; readonly blend: string }
  /** Pieces on order that no plan makes yet. */
  | { readonly kind: "unplanned"; readonly blend: string }
  | { readonly kind: "packing"; readonly order: string };

/** Mix to be made on a date. */
export interface MixDemand {
  readonly on: string;
  readonly blendId: number;
  readonly mixMilligrams: number;
  readonly what: Purpose;
}

export interface SupplyDemand {
  readonly needs: readonly NeedFor<Purpose>[];
  /** Blends of which something is to be mixed and nobody knows from what. */
  readonly withoutRecipe: readonly string[];
}

const MINUTES_A_DAY = 1440;

/** What the followed plan is still going to mix, session by session, light before dark. */
export async function plannedMixes(db: Database): Promise<readonly MixDemand[]> {
  const milligrams = sql<number>`sum(${lots.plannedUnits}::bigint * ${shapes.pieceMilligrams})::double precision`;
  const rows = await db
    .select({
      on: runs.sessionDate,
      blendId: runs.blendId,
      blend: blends.name,
      mixMilligrams: milligrams,
    })
    .from(runs)
    .innerJoin(plans, eq(plans.id, runs.planId))
    .innerJoin(blends, eq(blends.id, runs.blendId))
    .innerJoin(lots, eq(lots.runId, runs.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(and(eq(runs.state, "planned"), eq(plans.state, "accepted")))
    .groupBy(runs.id, blends.id)
    .orderBy(asc(runs.sessionStartsAt), asc(blends.shade), asc(runs.id));
  return rows.map(({ blend, ...row }) => ({ ...row, what: { kind: "run", blend } }));
}

/**
 * What confirmed orders want that is neither there nor drying nor planned: it has to be mixed so early that it can dry
 * before its ship-by date, a day of pressing included; at once where that has gone by.
 */
export async function unplannedMixes(db: Database, today: string): Promise<readonly MixDemand[]> {
  const demands = await unpackedDemand(db);
  const facts = await productFacts(
    db,
    demands.map(({ productId }) => productId),
  );
  const drying = await dryingDays(
    db,
    facts.map(({ productId }) => productId),
  );
  const rolled = rollUp(facts, demands, await supplyByProduct(db), 1);
  return rolled.blends.flatMap(({ blendId, rows }) =>
    rows
      .filter(({ unplanned }) => unplanned > 0)
      .map(({ productId, shipBy, unplanned }): MixDemand => {
        const fact = facts.find((known) => known.productId === productId);
        const latest = dateAway(shipBy, -(drying.get(productId) ?? 0));
        return {
          on: latest < today ? today : latest,
          blendId,
          mixMilligrams: unplanned * (fact?.pieceMilligrams ?? 0),
          what: { kind: "unplanned", blend: fact?.look.name ?? "" },
        };
      }),
  );
}

/** Days from mixing to packing, by product. */
async function dryingDays(db: Database, productIds: readonly number[]): Promise<ReadonlyMap<number, number>> {
  const rows = await db
    .select({ productId: products.id, minutes: sql<number>`${shapes.moldMinutes} + ${shapes.restMinutes}` })
    .from(products)
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(inArray(products.id, [...productIds]))
    .orderBy(asc(products.id));
  return new Map(rows.map(({ productId, minutes }) => [productId, Math.ceil(minutes / MINUTES_A_DAY)]));
}

/** What confirmed orders are still to be packed with, by their ship-by date; at once where that has gone by. */
export async function packingNeeds(db: Database, today: string): Promise<readonly NeedFor<Purpose>[]> {
  const lines = await db
    .select({
      order: orders.reference,
      shipBy: orders.shipBy,
      productId: lineProgress.productId,
      ordered: lineProgress.orderedUnits,
      packed: lineProgress.packedUnits,
    })
    .from(lineProgress)
    .innerJoin(orders, eq(orders.id, lineProgress.orderId))
    .where(inArray(orders.state, ["confirmed", "packing"]))
    .orderBy(asc(orders.shipBy), asc(lineProgress.orderLineId));
  const parts = groupBy(
    await db.select().from(packingParts).orderBy(asc(packingParts.supplyId)),
    ({ productId }) => productId,
  );
  return lines.flatMap(({ order, shipBy, productId, ordered, packed }) => {
    const its = parts.get(productId) ?? [];
    const before = new Map(packWith(its, packed).map(({ supplyId, amount }) => [supplyId, amount]));
    return packWith(its, ordered)
      .map(({ supplyId, amount }) => ({ supplyId, amount: amount - (before.get(supplyId) ?? 0) }))
      .filter(({ amount }) => amount > 0)
      .map((need) => ({
        ...need,
        on: shipBy < today ? today : shipBy,
        what: { kind: "packing" as const, order },
      }));
  });
}

/** Takes mixes apart by the recipe that holds on the date of each. */
export async function explode(db: Database, mixes: readonly MixDemand[]): Promise<SupplyDemand> {
  const recipes = await recipesInForce(db, mixes);
  const keyOf = ({ blendId, on }: MixDemand) => `${blendId} ${on}`;
  const parts = await partsOf(db, [...new Set(recipes.values())]);
  const known: DatedMix<Purpose>[] = [];
  const withoutRecipe = new Set<string>();
  for (const mix of mixes) {
    const recipeId = recipes.get(keyOf(mix));
    if (recipeId !== undefined) known.push({ ...mix, parts: parts.get(recipeId) ?? [] });
    else if ("blend" in mix.what) withoutRecipe.add(mix.what.blend);
  }
  return { needs: explodeMixes(known), withoutRecipe: [...withoutRecipe] };
}

/** The recipe of each blend on each date, by "blend date". */
async function recipesInForce(
  db: Database,
  mixes: readonly MixDemand[],
): Promise<ReadonlyMap<string, number>> {
  const asked = JSON.stringify(mixes.map(({ blendId, on }) => ({ blend: blendId, day: on })));
  const rows = await db.execute<{ blend: number; day: string; recipe: number | null }>(sql`
    select distinct asked.blend, asked.day::text, ${recipeOn(sql`asked.blend`, sql`asked.day`)} as recipe
    from jsonb_to_recordset(${asked}::jsonb) as asked(blend integer, day date)`);
  return new Map(
    rows.flatMap(({ blend, day, recipe }) => (recipe === null ? [] : [[`${blend} ${day}`, recipe] as const])),
  );
}

async function partsOf(
  db: Database,
  recipeIds: readonly number[],
): Promise<ReadonlyMap<number, readonly MixPart[]>> {
  const rows = await db
    .select({
      recipeId: recipeParts.recipeId,
      supplyId: recipeParts.supplyId,
      milligramsPerKilogram: recipeParts.milligramsPerKilogram,
    })
    .from(recipeParts)
    .where(inArray(recipeParts.recipeId, [...recipeIds]))
    .orderBy(asc(recipeParts.recipeId), asc(recipeParts.place));
  return groupBy(rows, ({ recipeId }) => recipeId);
}
