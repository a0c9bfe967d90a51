import { isDeepStrictEqual } from "node:util";
import { and, eq, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { blends } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { BlendLooks } from "./forms.ts";
import { renameProductsOf } from "./productsOf.ts";

/** Gives a blend another name or look; its code stays, as files and kept plans use it. */
export async function changeBlend(
  transaction: Transaction,
  actor: Actor,
  { blendId, ...after }: BlendLooks & { readonly blendId: number },
): Promise<Result<{ readonly blendId: number }, "not-found" | "name-taken">> {
  await transaction.execute(sql`lock table ${blends} in share row exclusive mode`);
  const [row] = await transaction.select().from(blends).where(eq(blends.id, blendId)).for("update");
  if (!row) return refuse("not-found");
  const { id: _id, retiredAt: _retiredAt, ...before } = row;
  if (isDeepStrictEqual(before, { ...before, ...after })) return ok({ blendId });
  const [sameName] = await transaction
    .select({ id: blends.id })
    .from(blends)
    .where(and(ne(blends.id, blendId), sql`lower(${blends.name}) = lower(${after.name})`));
  if (sameName) return refuse("name-taken");
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
