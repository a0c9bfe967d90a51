import { and, eq, inArray, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { type LockedLot, lockLot } from "../shelf/lockLot.ts";
import type { BenchRefusal } from "./refusals.ts";

/** Which step was a mistake: the state it led to. */
interface MistakenStep {
  readonly lotId: number;
  readonly state: "resting" | "ready";
}

/**
 * Takes a lot's last step back: resting to drying, ready to resting. Pieces recorded as lost with it stay lost; a
 * count puts that right. Refused once pieces of it are packed.
 */
export async function takeBackStep(
  transaction: Transaction,
  actor: Actor,
  { lotId, state }: MistakenStep,
): Promise<Result<{ readonly lotId: number }, BenchRefusal>> {
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ kind: "no-such-lot" });
  if (lot.state !== state) return refuse({ kind: "lot-moved-on", code: lot.code, state: lot.state });
  if (state === "ready" && (await unitsPacked(transaction, lotId)) > 0) {
    return refuse({ kind: "packed-already" });
  }
  const before = state === "ready" ? ({ state: "resting", readyAt: null } as const) : stillDrying(lot);
  await transaction.update(lots).set(before).where(eq(lots.id, lotId));
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "put back",
    before: { state, unmoldedAt: lot.unmoldedAt, readyAt: lot.readyAt },
    after: before,
  });
  return ok({ lotId });
}

/** The rest is what separates the two times; unmolding had moved its end. */
function stillDrying({ id, unmoldDueAt, unmoldedAt, readyDueAt }: LockedLot) {
  if (!unmoldDueAt || !unmoldedAt || !readyDueAt) throw new Error(`Lot ${id} rests without its times`);
  const restMs = readyDueAt.getTime() - unmoldedAt.getTime();
  return {
    state: "drying",
    unmoldedAt: null,
    readyDueAt: new Date(unmoldDueAt.getTime() + restMs),
  } as const;
}

async function unitsPacked(transaction: Transaction, lotId: number): Promise<number> {
  const [packed] = await transaction
    .select({ units: sql<number>`coalesce(-sum(${moves.units}), 0)::integer` })
    .from(moves)
    .where(and(eq(moves.lotId, lotId), inArray(moves.kind, ["packed", "unpacked"])));
  return packed?.units ?? 0;
}
