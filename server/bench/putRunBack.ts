import { and, eq, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { batchTicks } from "../../db/schema/batches.ts";
import { bowls } from "../../db/schema/bowls.ts";
import { lots } from "../../db/schema/lots.ts";
import { plans, runs } from "../../db/schema/plans.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { unweighRun } from "../supplies/weighRun.ts";
import type { BenchRefusal } from "./refusals.ts";
import { isFollowed } from "./startRun.ts";

/**
 * Takes a mistaken start back, as long as nothing is pressed and the plan is still the one that is followed. No plan
 * is accepted meanwhile: it would not know that it has this run to withdraw.
 */
export async function putRunBack(
  transaction: Transaction,
  actor: Actor,
  { runId }: { readonly runId: number },
): Promise<Result<{ readonly runId: number }, BenchRefusal>> {
  await transaction.execute(sql`lock table ${plans} in row exclusive mode`);
  const [run] = await transaction.select().from(runs).where(eq(runs.id, runId)).for("update");
  if (!run) return refuse({ kind: "no-such-run" });
  const itsLots = await transaction
    .select({ state: lots.state })
    .from(lots)
    .where(eq(lots.runId, runId))
    .orderBy(lots.id)
    .for("update");
  if (run.state !== "mixing" || itsLots.some((lot) => lot.state !== "mixing")) {
    return refuse({ kind: "not-to-be-put-back" });
  }
  if (!(await isFollowed(transaction, run.planId))) return refuse({ kind: "newer-plan-counts-on-it" });
  await transaction
    .update(runs)
    .set({ state: "planned", startedAt: null, recipeId: null })
    .where(eq(runs.id, runId));
  await transaction
    .update(lots)
    .set({ state: "planned" })
    .where(and(eq(lots.runId, runId), eq(lots.state, "mixing")));
  await unweighRun(transaction, actor, { runId });
  const begun = await transaction.delete(bowls).where(eq(bowls.runId, runId)).returning();
  const ticked = await transaction.delete(batchTicks).where(eq(batchTicks.runId, runId)).returning();
  await recordChange(transaction, actor, {
    subject: "run",
    subjectId: runId,
    what: "put back",
    before: { state: "mixing", startedAt: run.startedAt, bowls: begun, ticks: ticked },
    after: { state: "planned" },
  });
  return ok({ runId });
}
