import { sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { blends } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { NewBlend } from "./forms.ts";

/** Adds a blend. Names are compared without regard to capitals, so that no two blends read alike. */
export async function addBlend(
  transaction: Transaction,
  actor: Actor,
  blend: NewBlend,
): Promise<Result<{ readonly blendId: number }, "code-taken" | "name-taken">> {
  await transaction.execute(sql`lock table ${blends} in share row exclusive mode`);
  const others = await transaction
    .select({ code: blends.code })
    .from(blends)
    .where(sql`${blends.code} = ${blend.code} or lower(${blends.name}) = lower(${blend.name})`);
  if (others.some(({ code }) => code === blend.code)) return refuse("code-taken");
  if (others.length > 0) return refuse("name-taken");
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
