import { and, asc, eq, getTableColumns, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { recipeParts } from "../../db/schema/recipes.ts";
import { listedAllergens, scentLimits, supplies } from "../../db/schema/supplies.ts";
import { ingredientKind, isIngredient } from "./ingredient.ts";

/** Ingredients in use first, by kind and name; each with how many limits are entered for it, and whether a recipe has it. */
export async function listIngredients(db: Database) {
  return await db
    .select({
      id: supplies.id,
      name: supplies.name,
      kind: ingredientKind,
      labelName: supplies.labelName,
      densityGramsPerLitre: supplies.densityGramsPerLitre,
      evaporatesBasisPoints: supplies.evaporatesBasisPoints,
      retiredAt: supplies.retiredAt,
      limits: sql<number>`(select count(*) from ${scentLimits} where ${scentLimits.supplyId} = "supplies"."id")::integer`,
    })
    .from(supplies)
    .where(isIngredient)
    .orderBy(
      sql`${supplies.retiredAt} is not null`,
      asc(supplies.kind),
      asc(supplies.name),
      asc(supplies.id),
    );
}

/** An ingredient with what its supplier states of it, and the number of recipe versions it stands in. */
export async function findIngredient(db: Database, supplyId: number) {
  const [row] = await db
    .select({ ...getTableColumns(supplies), kind: ingredientKind })
    .from(supplies)
    .where(and(eq(supplies.id, supplyId), isIngredient));
  if (!row) return undefined;
  const recipes = await db.$count(recipeParts, eq(recipeParts.supplyId, supplyId));
  return { ...row, ...(await readStated(db, supplyId)), recipes };
}

/** An ingredient's limits by category, and the listed allergens in it by name. */
export async function readStated(db: Database | Transaction, supplyId: number) {
  const limits = await db
    .select({
      category: scentLimits.category,
      limitPpm: scentLimits.limitPpm,
      source: scentLimits.source,
    })
    .from(scentLimits)
    .where(eq(scentLimits.supplyId, supplyId))
    .orderBy(asc(sql`${scentLimits.category} collate "C"`));
  const allergens = await db
    .select({ name: listedAllergens.name, sharePpm: listedAllergens.sharePpm })
    .from(listedAllergens)
    .where(eq(listedAllergens.supplyId, supplyId))
    .orderBy(asc(sql`${listedAllergens.name} collate "C"`));
  return { limits, allergens };
}
