import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { readLearned } from "./queries.ts";

/** From now on plans expect a product to lose so much; what its batches had taught by then is written down beside. */
export async function acceptLosses(
  transaction: Transaction,
  actor: Actor,
  { productId, lossBasisPoints }: { readonly productId: number; readonly lossBasisPoints: number },
): Promise<Result<{ readonly productId: number }, "not-found">> {
  const [product] = await transaction.select().from(products).where(eq(products.id, productId)).for("update");
  if (!product || product.retiredAt !== null) return refuse("not-found");
  if (product.lossBasisPoints === lossBasisPoints) return ok({ productId });
  const { losses } = await readLearned(transaction);
  await transaction.update(products).set({ lossBasisPoints }).where(eq(products.id, productId));
  await recordChange(transaction, actor, {
    subject: "product",
    subjectId: productId,
    what: "expected losses changed",
    before: { lossBasisPoints: product.lossBasisPoints },
    after: { lossBasisPoints, learned: losses.find((one) => one.productId === productId)?.learned ?? null },
  });
  return ok({ productId });
}

/** From now on plans count so long for pressing a piece of a shape; likewise. */
export async function acceptPressing(
  transaction: Transaction,
  actor: Actor,
  { shapeId, formSeconds }: { readonly shapeId: number; readonly formSeconds: number },
): Promise<Result<{ readonly shapeId: number }, "not-found">> {
  const [shape] = await transaction.select().from(shapes).where(eq(shapes.id, shapeId)).for("update");
  if (!shape || shape.retiredAt !== null) return refuse("not-found");
  if (shape.formSeconds === formSeconds) return ok({ shapeId });
  const { pressing } = await readLearned(transaction);
  await transaction.update(shapes).set({ formSeconds }).where(eq(shapes.id, shapeId));
  await recordChange(transaction, actor, {
    subject: "shape",
    subjectId: shapeId,
    what: "changed",
    before: { formSeconds: shape.formSeconds },
    after: { formSeconds, learned: pressing.find((one) => one.shapeId === shapeId)?.learned ?? null },
  });
  return ok({ shapeId });
}
