import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { blends } from "../../db/schema/products.ts";
import { setRetired } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { bringBackProductsOf, retireProductsOf } from "./productsOf.ts";

/** Retires a blend with its products: no new orders for them; what is ordered, drying or on the shelf goes on. */
export async function retireBlend(
  transaction: Transaction,
  actor: Actor,
  { blendId }: { readonly blendId: number },
): Promise<Result<null, "not-found">> {
  const found = await setRetired(transaction, actor, blends, {
    subject: "blend",
    id: blendId,
    retired: true,
  });
  if (!found) return refuse("not-found");
  await retireProductsOf(transaction, actor, { blendId });
  return ok(null);
}

/** Brings a retired blend back, and with it the products that were retired together with it. */
export async function bringBackBlend(
  transaction: Transaction,
  actor: Actor,
  { blendId }: { readonly blendId: number },
): Promise<Result<null, "not-found">> {
  const [row] = await transaction.select().from(blends).where(eq(blends.id, blendId)).for("update");
  if (!row) return refuse("not-found");
  if (!row.retiredAt) return ok(null);
  await setRetired(transaction, actor, blends, { subject: "blend", id: blendId, retired: false });
  await bringBackProductsOf(transaction, actor, { blendId }, row.retiredAt);
  return ok(null);
}
