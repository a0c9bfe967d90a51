import { and, asc, eq, isNull, type SQL } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { setRetired } from "../../db/setRetired.ts";
import type { Actor } from "../http/visitor.ts";
import { changeProduct } from "./changeProduct.ts";
import { productName } from "./productName.ts";

/** The blend or the shape whose products go with it. */
type ProductsOf = { readonly blendId: number } | { readonly shapeId: number };

/** Retires the products of a blend or shape that is being retired. */
export async function retireProductsOf(
  transaction: Transaction,
  actor: Actor,
  of: ProductsOf,
): Promise<void> {
  const inUse = await transaction
    .select({ id: products.id })
    .from(products)
    .where(and(madeOf(of), isNull(products.retiredAt)))
    .orderBy(asc(products.id));
  for (const { id } of inUse) {
    await setRetired(transaction, actor, products, { subject: "product", id, retired: true });
  }
}

/**
 * Brings back the products that were retired together with a blend or shape, at `retiredAt`; not those retired on
 * their own before, nor those whose other half is still retired.
 */
export async function bringBackProductsOf(
  transaction: Transaction,
  actor: Actor,
  of: ProductsOf,
  retiredAt: Date,
): Promise<void> {
  const together = await transaction
    .select({ id: products.id })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(
      and(madeOf(of), eq(products.retiredAt, retiredAt), isNull(blends.retiredAt), isNull(shapes.retiredAt)),
    )
    .orderBy(asc(products.id));
  for (const { id } of together) {
    await setRetired(transaction, actor, products, { subject: "product", id, retired: false });
  }
}

/**
 * Lets the products of a blend or shape follow its new name: those still called after both, not those that were
 * given a name of their own. Called after the blend or shape was renamed.
 */
export async function renameProductsOf(
  transaction: Transaction,
  actor: Actor,
  of: ProductsOf,
  formerName: string,
): Promise<void> {
  const made = await transaction
    .select({ id: products.id, name: products.name, blendName: blends.name, shapeName: shapes.name })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(madeOf(of))
    .orderBy(asc(products.id));
  for (const { id, name, blendName, shapeName } of made) {
    const before = "blendId" in of ? productName(formerName, shapeName) : productName(blendName, formerName);
    if (name !== before) continue;
    await changeProduct(transaction, actor, { productId: id, name: productName(blendName, shapeName) });
  }
}

function madeOf(of: ProductsOf): SQL {
  return "blendId" in of ? eq(products.blendId, of.blendId) : eq(products.shapeId, of.shapeId);
}
