import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { products } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";

/** Calls a product something else; its code, blend and shape stay. */
export async function changeProduct(
  transaction: Transaction,
  actor: Actor,
  { productId, name }: { readonly productId: number; readonly name: string },
): Promise<Result<null, "not-found">> {
  const [row] = await transaction.select().from(products).where(eq(products.id, productId)).for("update");
  if (!row) return refuse("not-found");
  if (row.name === name) return ok(null);
  await transaction.update(products).set({ name }).where(eq(products.id, productId));
  await recordChange(transaction, actor, {
    subject: "product",
    subjectId: productId,
    what: "changed",
    before: { name: row.name },
    after: { name },
  });
  return ok(null);
}
