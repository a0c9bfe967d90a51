import { and, eq, inArray, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { runs } from "../../db/schema/plans.ts";
import { recalls } from "../../db/schema/recalls.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { workshopDay } from "../workshop/workshopDay.ts";
import { giveBack, usesOf } from "./giveBack.ts";
import { lockSupply } from "./lockSupplies.ts";
import { useUp } from "./useUp.ts";

export interface ChosenLot {
  readonly runId: number;
  readonly supplyId: number;
  /** The lot it was really weighed from. */
  readonly lotId: number;
}

export type ChoiceRefusal =
  | "no-such-run"
  | "nothing-taken"
  | "lot-unknown"
  | "lot-recalled"
  | "counted-since";

/**
 * A run took a supply from another lot than the one that expires first: the ledger follows. What that lot does not have
 * comes from the others, first expired first. Refused once the supply was counted: what was there of each lot is known
 * since then, and moving it between lots would make the count wrong; and where a recalled lot is concerned: a batch does
 * not leave a recall by a word of the books.
 */
export async function chooseLot(
  transaction: Transaction,
  actor: Actor,
  { runId, supplyId, lotId }: ChosenLot,
): Promise<Result<{ readonly runId: number }, ChoiceRefusal>> {
  const [run] = await transaction.select({ id: runs.id }).from(runs).where(eq(runs.id, runId)).for("update");
  if (!run) return refuse("no-such-run");
  const locked = await lockSupply(transaction, supplyId);
  const uses = await usesOf(transaction, { runId }, [supplyId]);
  const amount = uses.reduce((sum, { open, settled }) => sum + open + settled, 0);
  if (!locked || amount === 0) return refuse("nothing-taken");
  const chosen = locked.lots.find((lot) => lot.lotId === lotId);
  if (!chosen) return refuse("lot-unknown");
  const isStopped = chosen.recalled || (await anyRecalled(transaction, uses));
  if (isStopped) return refuse("lot-recalled");
  if (uses.some(({ settled }) => settled > 0)) return refuse("counted-since");
  await giveBack(transaction, actor, { runId }, [{ supplyId, amount }]);
  await useUp(transaction, actor, {
    needs: [{ supplyId, amount }],
    usedFor: { runId },
    day: await workshopDay(transaction, actor.at),
    chosenLots: [lotId],
  });
  await recordChange(transaction, actor, {
    subject: "run",
    subjectId: runId,
    what: "weighed from another lot",
    after: { supplyId, lotId, amount },
  });
  return ok({ runId });
}

async function anyRecalled(
  transaction: Transaction,
  uses: readonly { readonly lotId: number | null }[],
): Promise<boolean> {
  const lotIds = uses.flatMap(({ lotId }) => lotId ?? []);
  const open = await transaction
    .select({ id: recalls.id })
    .from(recalls)
    .where(and(inArray(recalls.supplyLotId, lotIds), isNull(recalls.endedAt)));
  return open.length > 0;
}
