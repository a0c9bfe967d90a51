import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { recalls } from "../../db/schema/recalls.ts";
import { ok, type Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockRecall } from "./lockRecall.ts";
import type { RecallRefusal } from "./refusals.ts";

interface End {
  readonly recallId: number;
  /** Why it is over, or was a mistake. */
  readonly note: string;
}

/** A recall is over, or was a mistake: what it stopped may be packed and used again. */
export async function endRecall(
  transaction: Transaction,
  actor: Actor,
  { recallId, note }: End,
): Promise<Result<{ readonly recallId: number }, RecallRefusal>> {
  const held = await lockRecall(transaction, recallId);
  if (!held.ok) return held;
  await transaction
    .update(recalls)
    .set({ endedAt: actor.at, endedBy: actor.personId, endNote: note })
    .where(eq(recalls.id, recallId));
  await recordChange(transaction, actor, {
    subject: "recall",
    subjectId: recallId,
    what: "ended",
    before: { reason: held.value.reason },
    after: { note },
  });
  return ok({ recallId });
}
