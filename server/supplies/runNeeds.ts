import { and, asc, eq, ne, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { products } from "../../db/schema/products.ts";
import { recipeParts } from "../../db/schema/recipes.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { weighOut } from "./explosion.ts";
import type { SupplyNeed } from "./useUp.ts";

/** What the planned pieces of a run take of the mix: what is weighed out for it. */
export async function mixOfRun(db: Database | Transaction, runId: number): Promise<number> {
  const [row] = await db
    .select({
      milligrams: sql<number>`coalesce(sum(${lots.plannedUnits}::bigint * ${shapes.pieceMilligrams}), 0)::double precision`,
    })
    .from(lots)
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(and(eq(lots.runId, runId), ne(lots.state, "withdrawn")));
  return row?.milligrams ?? 0;
}

/** What so much mix takes of each supply that is kept count of, by a version of a recipe. */
export async function needsOfMix(
  db: Database | Transaction,
  recipeId: number,
  mixMilligrams: number,
): Promise<readonly SupplyNeed[]> {
  const parts = await db
    .select({
      supplyId: recipeParts.supplyId,
      milligramsPerKilogram: recipeParts.milligramsPerKilogram,
      counted: supplies.counted,
    })
    .from(recipeParts)
    .innerJoin(supplies, eq(supplies.id, recipeParts.supplyId))
    .where(eq(recipeParts.recipeId, recipeId))
    .orderBy(asc(recipeParts.place));
  const counted = new Set(parts.filter((part) => part.counted).map(({ supplyId }) => supplyId));
  return weighOut(parts, mixMilligrams).filter(({ supplyId }) => counted.has(supplyId));
}
