import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { type LockedLot, lockLot } from "../shelf/lockLot.ts";
import { type FormedState, type Losses, lostUnits } from "../shelf/lot.ts";
import { writeLosses } from "../shelf/writeLosses.ts";
import type { BenchRefusal } from "./refusals.ts";

/** What is said of a lot when it leaves its molds, or has rested. */
export interface LotStep {
  readonly lotId: number;
  readonly losses: Losses;
  /** Somebody has felt that the pieces are dry: allows the step before its time. */
  readonly feltDry: boolean;
}

interface StepRule {
  readonly from: FormedState;
  readonly to: FormedState;
  readonly what: string;
  readonly dueAt: (lot: LockedLot) => Date | null;
}

/**
 * What both steps have in common: holds the lot, sees that the step is its next one and due, writes losses and the
 * change. The caller writes the new state with its times.
 */
export async function takeLotStep(
  transaction: Transaction,
  actor: Actor,
  { lotId, losses, feltDry }: LotStep,
  { from, to, what, dueAt }: StepRule,
): Promise<Result<LockedLot, BenchRefusal>> {
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ kind: "no-such-lot" });
  if (lot.state !== from) return refuse({ kind: "lot-moved-on", code: lot.code, state: lot.state });
  const due = dueAt(lot);
  if (due !== null && actor.at < due && !feltDry) return refuse({ kind: "not-due-yet", dueAt: due });
  const lost = lostUnits(losses);
  if (lost > lot.balance) return refuse({ kind: "more-lost-than-there", there: lot.balance });
  await writeLosses(transaction, actor, lotId, losses);
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what,
    before: { state: from, units: lot.balance },
    after: { state: to, units: lot.balance - lost, losses, feltDry },
  });
  return ok(lot);
}
