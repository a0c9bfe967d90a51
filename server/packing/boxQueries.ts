import { and, asc, eq, gt, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { orderLines } from "../../db/schema/orders.ts";
import { products } from "../../db/schema/products.ts";
import { recipes } from "../../db/schema/recipes.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { sellsInOunces } from "../delivery/parcelQueries.ts";
import { dryMilligrams } from "../recipes/drying.ts";
import { recipeOn } from "../recipes/inForce.ts";
import { readParts } from "../recipes/queries.ts";
import { readBox } from "./box.ts";
import { listBoxSizes } from "./boxSizeQueries.ts";
import { boxUp, type NamedBoxSize, type PiecesToBox } from "./boxUp.ts";

/** The boxes of an order as they are suggested. */
export type OrderBoxes = NonNullable<Awaited<ReturnType<typeof suggestOrderBoxes>>>;

/**
 * Boxes for all of an order that has not left yet, whether it is packed or not. Null where the shop has said of no box
 * what fills it.
 *
 * @param today ISO date; pieces weigh what the recipe of that day leaves of them, dry
 */
export async function suggestOrderBoxes(db: Database, orderId: number, today: string) {
  const lines = await linesToBox(db, orderId, today);
  return boxes(db, lines, (line) => [{ lotCode: null, units: line.ordered - line.shipped }]);
}

/** The same for what stands packed here, lot by lot. */
export async function suggestPackedBoxes(db: Database, orderId: number, today: string) {
  const [lines, content] = [await linesToBox(db, orderId, today), await readBox(db, orderId)];
  return boxes(db, lines, ({ lineId }) =>
    content
      .filter(({ orderLineId }) => orderLineId === lineId)
      .map(({ lotCode, packed, shipped }) => ({ lotCode, units: packed - shipped })),
  );
}

type LineToBox = Awaited<ReturnType<typeof linesToBox>>[number];

async function boxes(
  db: Database,
  lines: readonly LineToBox[],
  partsOf: (line: LineToBox) => readonly Pick<PiecesToBox, "lotCode" | "units">[],
) {
  const sizes = await sizesInUse(db);
  if (sizes.length === 0) return null;
  const pieces = lines.flatMap((line) => {
    const { product, shapeId, pieceMilligrams } = line;
    return partsOf(line)
      .filter(({ units }) => units > 0)
      .map((part) => ({ ...part, product, shapeId, pieceMilligrams }));
  });
  const isWeighedDry = lines.every((line) => line.isDry);
  return { ...boxUp(pieces, sizes), isWeighedDry, inOunces: await sellsInOunces(db) };
}

async function sizesInUse(db: Database): Promise<readonly NamedBoxSize[]> {
  return (await listBoxSizes(db))
    .filter(({ retiredAt, holds }) => retiredAt === null && holds.length > 0)
    .map(({ id, name, tareMilligrams, holds }) => ({
      ...{ id, name, tareMilligrams },
      holds: new Map(holds.map(({ shapeId, units }) => [shapeId, units])),
    }));
}

/** A product without a recipe weighs what goes into its mold, which is more than it weighs dry. */
async function linesToBox(db: Database, orderId: number, today: string) {
  const rows = await db
    .select({
      lineId: orderLines.id,
      product: products.name,
      shapeId: shapes.id,
      mixMilligrams: shapes.pieceMilligrams,
      recipeId: recipes.id,
      ordered: lineProgress.orderedUnits,
      shipped: lineProgress.shippedUnits,
    })
    .from(orderLines)
    .innerJoin(lineProgress, eq(lineProgress.orderLineId, orderLines.id))
    .innerJoin(products, eq(products.id, orderLines.productId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .leftJoin(recipes, eq(recipes.id, recipeOn(sql`${products.blendId}`, sql`${today}::date`)))
    .where(and(eq(orderLines.orderId, orderId), gt(orderLines.units, 0)))
    .orderBy(asc(orderLines.id));
  const ids = rows.flatMap(({ recipeId }) => (recipeId === null ? [] : [recipeId]));
  const parts = await readParts(db, ids);
  return rows.map((row) => {
    const own = row.recipeId === null ? undefined : parts.get(row.recipeId);
    const pieceMilligrams = own ? dryMilligrams(own, row.mixMilligrams) : row.mixMilligrams;
    return { ...row, pieceMilligrams, isDry: own !== undefined };
  });
}
