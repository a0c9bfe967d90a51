import { asc, eq, isNull, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { boxHolds, boxSizes } from "../../db/schema/boxSizes.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";

/** Sizes in use first, the lightest first, each with what fills it. */
export async function listBoxSizes(db: Database) {
  const sizes = await db
    .select()
    .from(boxSizes)
    .orderBy(sql`${boxSizes.retiredAt} is not null`, asc(boxSizes.tareMilligrams), asc(boxSizes.id));
  const held = groupBy(await readHolds(db), ({ boxSizeId }) => boxSizeId);
  return sizes.map((size) => ({ ...size, holds: held.get(size.id) ?? [] }));
}

export type BoxSizeRow = Awaited<ReturnType<typeof listBoxSizes>>[number];

export async function findBoxSize(db: Database, boxSizeId: number): Promise<BoxSizeRow | undefined> {
  return (await listBoxSizes(db)).find(({ id }) => id === boxSizeId);
}

/** Shapes that may be said to fill a box. */
export async function listShapesToBox(db: Database) {
  return await db
    .select({ id: shapes.id, name: shapes.name })
    .from(shapes)
    .where(isNull(shapes.retiredAt))
    .orderBy(asc(shapes.name), asc(shapes.id));
}

async function readHolds(db: Database) {
  return await db
    .select({
      boxSizeId: boxHolds.boxSizeId,
      shapeId: boxHolds.shapeId,
      shape: shapes.name,
      units: boxHolds.units,
    })
    .from(boxHolds)
    .innerJoin(shapes, eq(shapes.id, boxHolds.shapeId))
    .orderBy(asc(shapes.name), asc(shapes.id));
}
