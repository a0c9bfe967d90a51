import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { setRetired } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { NewProduct } from "./forms.ts";
import { productName } from "./productName.ts";

export type ProductRefusal = "no-such-blend" | "no-such-shape";

/**
 * Takes a blend in a shape into the range. One that is there already stays as it is; one that was retired comes
 * back. Neither the blend nor the shape may be retired.
 */
export async function addProduct(
  transaction: Transaction,
  actor: Actor,
  { blendId, shapeId, name }: NewProduct,
): Promise<Result<{ readonly productId: number }, ProductRefusal>> {
  // For share: neither is retired by another while its product is made.
  const [blend] = await transaction.select().from(blends).where(eq(blends.id, blendId)).for("share");
  if (!blend || blend.retiredAt) return refuse("no-such-blend");
  const [shape] = await transaction.select().from(shapes).where(eq(shapes.id, shapeId)).for("share");
  if (!shape || shape.retiredAt) return refuse("no-such-shape");
  const product = {
    code: `${blend.code}/${shape.code}`,
    name: name ?? productName(blend.name, shape.name),
    blendId,
    shapeId,
  };
  const [row] = await transaction
    .insert(products)
    .values(product)
    .onConflictDoNothing()
    .returning({ id: products.id });
  if (!row) return await bringBackExisting(transaction, actor, blendId, shapeId);
  await recordChange(transaction, actor, {
    subject: "product",
    subjectId: row.id,
    what: "added",
    after: product,
  });
  return ok({ productId: row.id });
}

/** Every ticked cell of the grid, or none when one of them is refused. */
export async function addProducts(
  transaction: Transaction,
  actor: Actor,
  cells: readonly NewProduct[],
): Promise<Result<null, ProductRefusal>> {
  for (const cell of cells) {
    const added = await addProduct(transaction, actor, cell);
    if (!added.ok) return added;
  }
  return ok(null);
}

async function bringBackExisting(
  transaction: Transaction,
  actor: Actor,
  blendId: number,
  shapeId: number,
): Promise<Result<{ readonly productId: number }, never>> {
  const [existing] = await transaction
    .select({ id: products.id })
    .from(products)
    .where(and(eq(products.blendId, blendId), eq(products.shapeId, shapeId)));
  if (!existing) throw new Error(`A product of another blend or shape has the code of ${blendId}x${shapeId}`);
  await setRetired(transaction, actor, products, { subject: "product", id: existing.id, retired: false });
  return ok({ productId: existing.id });
}
