import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { setRetired } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { bringBackProductsOf, retireProductsOf } from "../products/productsOf.ts";

/** Retires a shape with its products: no new orders for them; what is ordered, drying or on the shelf goes on. */
export async function retireShape(
  transaction: Transaction,
  actor: Actor,
  { shapeId }: { readonly shapeId: number },
): Promise<Result<null, "not-found">> {
  const found = await setRetired(transaction, actor, shapes, {
    subject: "shape",
    id: shapeId,
    retired: true,
  });
  if (!found) return refuse("not-found");
  await retireProductsOf(transaction, actor, { shapeId });
  return ok(null);
}

/** Brings a retired shape back, and with it the products that were retired together with it. */
export async function bringBackShape(
  transaction: Transaction,
  actor: Actor,
  { shapeId }: { readonly shapeId: number },
): Promise<Result<null, "not-found">> {
  const [row] = await transaction.select().from(shapes).where(eq(shapes.id, shapeId)).for("update");
  if (!row) return refuse("not-found");
  if (!row.retiredAt) return ok(null);
  await setRetired(transaction, actor, shapes, { subject: "shape", id: shapeId, retired: false });
  await bringBackProductsOf(transaction, actor, { shapeId }, row.retiredAt);
  return ok(null);
}
