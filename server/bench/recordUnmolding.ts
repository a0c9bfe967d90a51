import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { ok, type Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { readyDueAfterUnmolding } from "./dryingTimes.ts";
import { type LotStep, takeLotStep } from "./lotStep.ts";
import type { BenchRefusal } from "./refusals.ts";

/** A lot's pieces have left their molds (or were lifted off the tray) and rest from now on. */
export async function recordUnmolding(
  transaction: Transaction,
  actor: Actor,
  step: LotStep,
): Promise<Result<{ readonly lotId: number }, BenchRefusal>> {
  const taken = await takeLotStep(transaction, actor, step, {
    from: "drying",
    to: "resting",
    what: "unmolded",
    dueAt: (lot) => lot.unmoldDueAt,
  });
  if (!taken.ok) return taken;
  const { unmoldDueAt, readyDueAt } = taken.value;
  if (!unmoldDueAt || !readyDueAt) throw new Error(`Lot ${step.lotId} dries without knowing how long`);
  await transaction
    .update(lots)
    .set({
      state: "resting",
      unmoldedAt: actor.at,
      readyDueAt: readyDueAfterUnmolding({ unmoldDueAt, readyDueAt }, actor.at),
    })
    .where(eq(lots.id, step.lotId));
  return ok({ lotId: step.lotId });
}
