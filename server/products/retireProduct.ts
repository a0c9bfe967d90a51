import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { retireOrReturn, setRetired } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";

/** Retires a product: no new orders for it; what is ordered, drying or on the shelf goes on. */
export async function retireProduct(
  transaction: Transaction,
  actor: Actor,
  { productId }: { readonly productId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, products, { subject: "product", id: productId, retired: true });
}

/** Brings a retired product back, unless its blend or its shape is retired itself. */
export async function bringBackProduct(
  transaction: Transaction,
  actor: Actor,
  { productId }: { readonly productId: number },
): Promise<Result<null, "not-found" | "blend-retired" | "shape-retired">> {
  // For share: neither is retired by another while the product comes back.
  const [made] = await transaction
    .select({ blendRetiredAt: blends.retiredAt, shapeRetiredAt: shapes.retiredAt })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(eq(products.id, productId))
    .for("share", { of: [blends, shapes] });
  if (!made) return refuse("not-found");
  if (made.blendRetiredAt) return refuse("blend-retired");
  if (made.shapeRetiredAt) return refuse("shape-retired");
  await setRetired(transaction, actor, products, { subject: "product", id: productId, retired: false });
  return ok(null);
}
