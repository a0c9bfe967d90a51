import { and, asc, eq, inArray, isNull, ne, type SQL, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { labelMaker, labelSheets } from "../../db/schema/labels.ts";
import { lots } from "../../db/schema/lots.ts";
import { runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { recipes } from "../../db/schema/recipes.ts";
import { lotBalances } from "../../db/schema/sums.ts";
import { listedAllergens, supplies } from "../../db/schema/supplies.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { blendLook } from "../products/blendLook.ts";
import { recipeOfRun, recipeOn } from "../recipes/inForce.ts";
import { readParts } from "../recipes/queries.ts";

/** Who stands on the labels; before the owner has said, nobody, and nothing is claimed. */
export async function readLabelMaker(db: Database) {
  const [row] = await db.select().from(labelMaker);
  return (
    row ?? {
      market: "none" as const,
      ...{ makerName: "", makerPlace: "", contact: "", adultsOnly: false, gs1Prefix: null },
    }
  );
}

/** Every sheet there ever was, by name. */
export async function listSheets(db: Database) {
  return await db.select().from(labelSheets).orderBy(asc(labelSheets.name), asc(labelSheets.id));
}

export type SheetRow = Awaited<ReturnType<typeof listSheets>>[number];

export async function sheetsInUse(db: Database): Promise<readonly SheetRow[]> {
  return (await listSheets(db)).filter(({ retiredAt }) => retiredAt === null);
}

export async function findSheet(db: Database, sheetId: number): Promise<SheetRow | undefined> {
  const [row] = await db.select().from(labelSheets).where(eq(labelSheets.id, sheetId));
  return row;
}

const labelledFacts = {
  productId: products.id,
  product: products.name,
  look: blendLook,
  pieceMilligrams: shapes.pieceMilligrams,
  declaredMilligrams: products.declaredMilligrams,
  gs1Number: products.gs1Number,
  durabilityMonths: products.durabilityMonths,
};

/**
 * What the labels of a lot are made from: the version its run was started by; where it has no run, or one that has not
 * begun, the version that holds on the day it was or will be formed. Of a lot that was entered by hand nobody knows the day
 * it was made. Undefined where there is no such lot.
 */
export async function findLabelledLot(db: Database, lotId: number, timeZone: string, today: string) {
  const formed = sql`coalesce((${lots.formedAt} at time zone ${timeZone})::date, ${runs.sessionDate})`;
  const version = recipeOfRun(sql`${products.blendId}`, sql`coalesce(${formed}, ${today}::date)`);
  const [row] = await selectLot(db, version, formed).where(eq(lots.id, lotId));
  return row && { ...row, parts: await partsOf(db, row.recipeId) };
}

function selectLot(db: Database, version: SQL, formed: SQL) {
  return db
    .select({
      ...labelledFacts,
      lotId: lots.id,
      lotCode: lots.code,
      units: sql<number>`case when ${lots.formedAt} is null then coalesce(${lots.plannedUnits}, 0) else ${lotBalances.units} end`,
      madeOn: sql<string | null>`case when ${runs.id} is not null then (${formed})::text end`,
      recipeId: recipes.id,
      recipeVersion: recipes.version,
    })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .leftJoin(runs, eq(runs.id, lots.runId))
    .leftJoin(recipes, eq(recipes.id, version))
    .$dynamic();
}

/** The same for a product without a lot: by the version that holds on a day. */
export async function findLabelledProduct(db: Database, productId: number, today: string) {
  const version = recipeOn(sql`${products.blendId}`, sql`${today}::date`);
  const [row] = await db
    .select({ ...labelledFacts, recipeId: recipes.id, recipeVersion: recipes.version })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .leftJoin(recipes, eq(recipes.id, version))
    .where(eq(products.id, productId));
  return row && { ...row, parts: await partsOf(db, row.recipeId) };
}

export type LabelledLot = NonNullable<Awaited<ReturnType<typeof findLabelledLot>>>;
export type LabelledProduct = NonNullable<Awaited<ReturnType<typeof findLabelledProduct>>>;

async function partsOf(db: Database, recipeId: number | null) {
  const parts = recipeId === null ? undefined : (await readParts(db, [recipeId])).get(recipeId);
  if (!parts) return null;
  const stated = await readAllergens(
    db,
    parts.map(({ supplyId }) => supplyId),
  );
  return parts.map((part) => ({ ...part, allergens: stated.get(part.supplyId) ?? null }));
}

/** What suppliers' statements list, by supply; a supply without a statement is not there. */
async function readAllergens(db: Database, supplyIds: readonly number[]) {
  const rows = await db
    .select({ supplyId: supplies.id, name: listedAllergens.name, sharePpm: listedAllergens.sharePpm })
    .from(supplies)
    .leftJoin(listedAllergens, eq(listedAllergens.supplyId, supplies.id))
    .where(and(inArray(supplies.id, [...supplyIds]), ne(supplies.allergenSource, "")))
    .orderBy(asc(supplies.id), asc(listedAllergens.name));
  const bySupply = groupBy(rows, ({ supplyId }) => supplyId);
  return new Map(
    [...bySupply].map(([supplyId, its]) => [
      supplyId,
      its.flatMap(({ name, sharePpm }) => (name === null || sharePpm === null ? [] : [{ name, sharePpm }])),
    ]),
  );
}

/** Products in use, for labels of which no lot is known. */
export async function listLabelledProducts(db: Database) {
  return await db
    .select({ id: products.id, name: products.name, look: blendLook })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(isNull(products.retiredAt))
    .orderBy(asc(products.name), asc(products.id));
}
