import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { blends } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { findNameClash, type NameClash } from "../workshop/nameClash.ts";
import type { NewBlend } from "./forms.ts";

/** Adds a blend under a name and a code of its own. */
export async function addBlend(
  transaction: Transaction,
  actor: Actor,
  blend: NewBlend,
): Promise<Result<{ readonly blendId: number }, NameClash>> {
  const clash = await findNameClash(transaction, blends, blend);
  if (clash) return refuse(clash);
  const [row] = await transaction.insert(blends).values(blend).returning({ id: blends.id });
  if (!row) throw new Error("The new blend's row did not come back");
  await recordChange(transaction, actor, {
    subject: "blend",
    subjectId: row.id,
    what: "added",
    after: blend,
  });
  return ok({ blendId: row.id });
}
