import { isDeepStrictEqual } from "node:util";
import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { blends } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { findNameClash, type NameClash } from "../workshop/nameClash.ts";
import type { BlendLooks } from "./forms.ts";
import { renameProductsOf } from "./productsOf.ts";

/** Gives a blend another name or look; its code stays, as files and kept plans use it. */
export async function changeBlend(
  transaction: Transaction,
  actor: Actor,
  { blendId, ...after }: BlendLooks & { readonly blendId: number },
): Promise<Result<{ readonly blendId: number }, "not-found" | NameClash>> {
  const clash = await findNameClash(transaction, blends, { name: after.name, id: blendId });
  const [row] = await transaction.select().from(blends).where(eq(blends.id, blendId)).for("update");
  if (!row) return refuse("not-found");
  const { id: _id, retiredAt: _retiredAt, ...before } = row;
  if (isDeepStrictEqual(before, { ...before, ...after })) return ok({ blendId });
  if (clash) return refuse(clash);
  await transaction.update(blends).set(after).where(eq(blends.id, blendId));
  await recordChange(transaction, actor, {
    subject: "blend",
    subjectId: blendId,
    what: "changed",
    before,
    after,
  });
  if (before.name !== after.name) await renameProductsOf(transaction, actor, { blendId }, before.name);
  return ok({ blendId });
}
