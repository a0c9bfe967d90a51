import { isDeepStrictEqual } from "node:util";
import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { renameProductsOf } from "../products/productsOf.ts";
import type { ShapeNumbers } from "./forms.ts";
import { findNameClash, type NameClash } from "./nameClash.ts";

/**
 * Gives a shape other numbers or another name; its code stays, as files and kept plans use it. The next plan uses
 * the new numbers; what is already drying keeps its own times.
 */
export async function changeShape(
  transaction: Transaction,
  actor: Actor,
  { shapeId, ...after }: ShapeNumbers & { readonly shapeId: number },
): Promise<Result<{ readonly shapeId: number }, "not-found" | NameClash>> {
  const clash = await findNameClash(transaction, shapes, { name: after.name, id: shapeId });
  const [row] = await transaction.select().from(shapes).where(eq(shapes.id, shapeId)).for("update");
  if (!row) return refuse("not-found");
  const { id: _id, retiredAt: _retiredAt, ...before } = row;
  if (isDeepStrictEqual(before, { ...before, ...after })) return ok({ shapeId });
  if (clash) return refuse(clash);
  await transaction.update(shapes).set(after).where(eq(shapes.id, shapeId));
  await recordChange(transaction, actor, {
    subject: "shape",
    subjectId: shapeId,
    what: "changed",
    before,
    after,
  });
  if (before.name !== after.name) await renameProductsOf(transaction, actor, { shapeId }, before.name);
  return ok({ shapeId });
}
