import { and, asc, count, eq, isNull, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";

/** Blends in use first, lightest first; each with its products in use. */
export async function listBlends(db: Database) {
  const rows = await db
    .select({ blend: blends, products: count(products.id) })
    .from(blends)
    .leftJoin(products, sql`${products.blendId} = ${blends.id} and ${products.retiredAt} is null`)
    .groupBy(blends.id)
    .orderBy(sql`${blends.retiredAt} is not null`, asc(blends.shade), asc(blends.name), asc(blends.id));
  return rows.map(({ blend, products }) => ({ ...blend, products }));
}

/** A blend with its products in use. */
export async function findBlend(db: Database, blendId: number) {
  const [blend] = await db.select().from(blends).where(eq(blends.id, blendId));
  if (!blend) return undefined;
  const inUse = and(eq(products.blendId, blendId), isNull(products.retiredAt));
  return { ...blend, products: await db.$count(products, inUse) };
}

/** The blends and shapes in use, and every product there ever was. */
export async function readRange(db: Database) {
  return {
    blends: await db
      .select()
      .from(blends)
      .where(isNull(blends.retiredAt))
      .orderBy(asc(blends.shade), asc(blends.name), asc(blends.id)),
    shapes: await db
      .select({ id: shapes.id, name: shapes.name })
      .from(shapes)
      .where(isNull(shapes.retiredAt))
      .orderBy(asc(shapes.name), asc(shapes.id)),
    products: await db.select().from(products).orderBy(asc(products.name), asc(products.id)),
  };
}

export async function findProduct(db: Database, productId: number) {
  const [row] = await db
    .select({ product: products, blend: blends, shape: shapes })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(eq(products.id, productId));
  return row && { ...row.product, blend: row.blend, shape: row.shape };
}
