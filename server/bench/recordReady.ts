import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { ok, type Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { type LotStep, takeLotStep } from "./lotStep.ts";
import type { BenchRefusal } from "./refusals.ts";

/** A lot's pieces have rested and may be packed from now on. */
export async function recordReady(
  transaction: Transaction,
  actor: Actor,
  step: LotStep,
): Promise<Result<{ readonly lotId: number }, BenchRefusal>> {
  const taken = await takeLotStep(transaction, actor, step, {
    from: "resting",
    to: "ready",
    what: "made ready",
    dueAt: (lot) => lot.readyDueAt,
  });
  if (!taken.ok) return taken;
  await transaction.update(lots).set({ state: "ready", readyAt: actor.at }).where(eq(lots.id, step.lotId));
  return ok({ lotId: step.lotId });
}
