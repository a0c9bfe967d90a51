import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { dampLooks } from "../../db/schema/air.ts";
import { lots } from "../../db/schema/lots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockLot } from "../shelf/lockLot.ts";
import { readyDueAfterUnmolding } from "./dryingTimes.ts";
import type { BenchRefusal } from "./refusals.ts";

/**
 * A lot in its molds was felt and is still damp: it stays there, and is due again so many minutes later, or when it was
 * due anyway where that is later. The next plan counts on the new time, and what drying takes is learned from the look.
 */
export async function recordStillDamp(
  transaction: Transaction,
  actor: Actor,
  { lotId, againInMinutes }: { readonly lotId: number; readonly againInMinutes: number },
): Promise<Result<{ readonly lotId: number }, BenchRefusal>> {
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ kind: "no-such-lot" });
  if (lot.state !== "drying") return refuse({ kind: "lot-moved-on", code: lot.code, state: lot.state });
  const { unmoldDueAt, readyDueAt } = lot;
  if (!unmoldDueAt || !readyDueAt) throw new Error(`Lot ${lotId} dries without knowing how long`);
  const again = new Date(Math.max(unmoldDueAt.getTime(), actor.at.getTime() + againInMinutes * 60_000));
  await transaction.insert(dampLooks).values({ lotId, at: actor.at, personId: actor.personId });
  await transaction
    .update(lots)
    .set({ unmoldDueAt: again, readyDueAt: readyDueAfterUnmolding({ unmoldDueAt, readyDueAt }, again) })
    .where(eq(lots.id, lotId));
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "found damp",
    before: { unmoldDueAt },
    after: { unmoldDueAt: again },
  });
  return ok({ lotId });
}
