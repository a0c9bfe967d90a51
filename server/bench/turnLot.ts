import { and, desc, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { turnings } from "../../db/schema/turnings.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockLot } from "../shelf/lockLot.ts";
import type { BenchRefusal } from "./refusals.ts";

interface Turning {
  readonly lotId: number;
  /** Which turning of the lot is meant; the first is 1. */
  readonly turning: number;
}

/** The pieces of a lot were turned over. Two who tap for the same turning have turned them once. */
export async function turnLot(
  transaction: Transaction,
  actor: Actor,
  { lotId, turning }: Turning,
): Promise<Result<{ readonly lotId: number }, BenchRefusal>> {
  const held = await holdTurned(transaction, lotId, turning - 1);
  if (!held.ok) return held;
  await transaction.insert(turnings).values({ lotId, turning, at: actor.at, personId: actor.personId });
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "turned",
    after: { turning },
  });
  return ok({ lotId });
}

/** Takes a lot's last turning back, which was a mistake. */
export async function takeTurningBack(
  transaction: Transaction,
  actor: Actor,
  { lotId, turning }: Turning,
): Promise<Result<{ readonly lotId: number }, BenchRefusal>> {
  const held = await holdTurned(transaction, lotId, turning);
  if (!held.ok) return held;
  await transaction.delete(turnings).where(and(eq(turnings.lotId, lotId), eq(turnings.turning, turning)));
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "not turned",
    before: { turning, at: held.value?.at },
  });
  return ok({ lotId });
}

/** Holds a lot that lies in its molds and was turned so many times, and returns its last turning. */
async function holdTurned(
  transaction: Transaction,
  lotId: number,
  times: number,
): Promise<Result<typeof turnings.$inferSelect | undefined, BenchRefusal>> {
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ kind: "no-such-lot" });
  if (lot.state !== "drying") return refuse({ kind: "lot-moved-on", code: lot.code, state: lot.state });
  const [last] = await transaction
    .select()
    .from(turnings)
    .where(eq(turnings.lotId, lotId))
    .orderBy(desc(turnings.turning))
    .limit(1);
  if ((last?.turning ?? 0) === times) return ok(last);
  return refuse({ kind: "turned-otherwise", code: lot.code, at: last?.at ?? null });
}
