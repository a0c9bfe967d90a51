import { and, asc, desc, eq, inArray, isNull, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { people } from "../../db/schema/people.ts";
import { blends, products } from "../../db/schema/products.ts";
import { recipeParts, recipes } from "../../db/schema/recipes.ts";
import { scentLimits, supplies } from "../../db/schema/supplies.ts";
import { shapes, workshop } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { ingredientKind, isIngredient } from "../supplies/ingredient.ts";
import type { IngredientKind } from "./cautions.ts";
import { recipeOn } from "./inForce.ts";
import { judgeScents } from "./scentLimits.ts";

/** A part of a recipe with what is known of its ingredient today. */
export interface ShownPart {
  readonly supplyId: number;
  readonly name: string;
  readonly labelName: string;
  readonly kind: IngredientKind;
  readonly phase: (typeof recipeParts.$inferSelect)["phase"];
  readonly milligramsPerKilogram: number;
  readonly thousandths: number;
  readonly unit: (typeof recipeParts.$inferSelect)["unit"];
  readonly evaporatesBasisPoints: number;
  readonly dusty: boolean;
  readonly flammable: boolean;
  /** In the recipe's category; null: none entered. */
  readonly limitPpm: number | null;
  readonly limitSource: string | null;
}

/** A blend's look and name; undefined where there is no such blend. */
export async function findBlendLook(db: Database, blendId: number) {
  const [blend] = await db
    .select({ id: blends.id, name: blends.name, colour: blends.colour, pattern: blends.pattern })
    .from(blends)
    .where(eq(blends.id, blendId));
  return blend;
}

/** Every blend in use, lightest first, with the version that holds on a day and how its scent oils stand. */
export async function listRecipes(db: Database, day: string) {
  const rows = await db
    .select({
      id: blends.id,
      look: { name: blends.name, colour: blends.colour, pattern: blends.pattern },
      recipeId: recipes.id,
      version: recipes.version,
      validFrom: recipes.validFrom,
    })
    .from(blends)
    .leftJoin(recipes, eq(recipes.id, recipeOn(sql`${blends.id}`, sql`${day}::date`)))
    .where(isNull(blends.retiredAt))
    .orderBy(asc(blends.shade), asc(blends.name), asc(blends.id));
  const parts = await readParts(
    db,
    rows.flatMap(({ recipeId }) => (recipeId === null ? [] : [recipeId])),
  );
  return rows.map(({ recipeId, ...row }) => {
    const its = recipeId === null ? [] : (parts.get(recipeId) ?? []);
    const verdicts = judgeScents(its).map(({ verdict }) => verdict);
    return {
      ...row,
      ingredients: new Set(its.map(({ supplyId }) => supplyId)).size,
      scent: verdicts.includes("above")
        ? ("above" as const)
        : verdicts.includes("unknown")
          ? ("unknown" as const)
          : ("within" as const),
    };
  });
}

/** Every version of a blend's recipe, the newest first, and which of them holds on a day. */
export async function listVersions(db: Database, blendId: number, day: string) {
  return await db
    .select({
      id: recipes.id,
      version: recipes.version,
      validFrom: recipes.validFrom,
      category: recipes.category,
      note: recipes.note,
      writtenForThousandths: recipes.writtenForThousandths,
      writtenForUnit: recipes.writtenForUnit,
      createdAt: recipes.createdAt,
      createdBy: people.name,
      holds: sql<boolean>`${recipes.id} is not distinct from ${recipeOn(sql`${blendId}::integer`, sql`${day}::date`)}`,
    })
    .from(recipes)
    .leftJoin(people, eq(people.id, recipes.createdBy))
    .where(eq(recipes.blendId, blendId))
    .orderBy(desc(recipes.version));
}

/** The parts of recipes, in the order they were written in, by recipe. */
export async function readParts(
  db: Database | Transaction,
  recipeIds: readonly number[],
): Promise<ReadonlyMap<number, readonly ShownPart[]>> {
  const rows = await db
    .select({
      recipeId: recipeParts.recipeId,
      supplyId: recipeParts.supplyId,
      name: supplies.name,
      labelName: supplies.labelName,
      kind: ingredientKind,
      phase: recipeParts.phase,
      milligramsPerKilogram: recipeParts.milligramsPerKilogram,
      thousandths: recipeParts.thousandths,
      unit: recipeParts.unit,
      evaporatesBasisPoints: supplies.evaporatesBasisPoints,
      dusty: supplies.dusty,
      flammable: supplies.flammable,
      limitPpm: scentLimits.limitPpm,
      limitSource: scentLimits.source,
    })
    .from(recipeParts)
    .innerJoin(recipes, eq(recipes.id, recipeParts.recipeId))
    .innerJoin(supplies, eq(supplies.id, recipeParts.supplyId))
    .leftJoin(
      scentLimits,
      and(eq(scentLimits.supplyId, supplies.id), eq(scentLimits.category, recipes.category)),
    )
    .where(inArray(recipeParts.recipeId, [...recipeIds]))
    .orderBy(asc(recipeParts.recipeId), asc(recipeParts.place));
  return groupBy(rows, ({ recipeId }) => recipeId);
}

/** Shapes that a blend's products in use are pressed into, with the mix a piece takes. */
export async function shapesOfBlend(db: Database, blendId: number) {
  return await db
    .select({ id: shapes.id, name: shapes.name, pieceMilligrams: shapes.pieceMilligrams })
    .from(products)
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(and(eq(products.blendId, blendId), isNull(products.retiredAt)))
    .orderBy(asc(shapes.name), asc(shapes.id));
}

/** What a full bowl holds. */
export async function readBowlMilligrams(db: Database): Promise<number> {
  const [row] = await db.select({ bowlMilligrams: workshop.bowlMilligrams }).from(workshop);
  if (!row) throw new Error("There is no workshop to read");
  return row.bowlMilligrams;
}

/** Ingredients a recipe may be written from. */
export async function listIngredientChoices(db: Database) {
  return await db
    .select({ id: supplies.id, name: supplies.name })
    .from(supplies)
    .where(and(isNull(supplies.retiredAt), isIngredient))
    .orderBy(asc(supplies.name), asc(supplies.id));
}
