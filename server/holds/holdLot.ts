import { and, eq, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lotHolds } from "../../db/schema/holds.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockLot } from "../shelf/lockLot.ts";
import { isFormed } from "../shelf/lot.ts";
import type { HoldRefusal } from "./refusals.ts";

interface Hold {
  readonly lotId: number;
  /** What is wrong with it, in the shop's own words. */
  readonly reason: string;
}

/**
 * Nothing more is packed of a lot, nor sent off, until the owner lets it go. Whoever packs of it at the same moment
 * holds the lot first or waits: what was packed before stays in its box and cannot leave.
 */
export async function holdLot(
  transaction: Transaction,
  actor: Actor,
  { lotId, reason }: Hold,
): Promise<Result<{ readonly lotId: number }, HoldRefusal>> {
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ why: "no-such-lot" });
  if (!isFormed(lot.state)) return refuse({ why: "has-no-pieces", code: lot.code });
  if (await openHold(transaction, lotId)) return refuse({ why: "held-already", code: lot.code });
  await transaction.insert(lotHolds).values({ lotId, reason, putAt: actor.at, putBy: actor.personId });
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "put on hold",
    after: { reason, units: lot.balance },
  });
  return ok({ lotId });
}

interface Release {
  readonly lotId: number;
  /** Why it may be packed after all. */
  readonly note: string;
}

/** A lot may be packed again. */
export async function releaseLot(
  transaction: Transaction,
  actor: Actor,
  { lotId, note }: Release,
): Promise<Result<{ readonly lotId: number }, HoldRefusal>> {
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ why: "no-such-lot" });
  const hold = await openHold(transaction, lotId);
  if (!hold) return refuse({ why: "not-held", code: lot.code });
  await transaction
    .update(lotHolds)
    .set({ releasedAt: actor.at, releasedBy: actor.personId, releaseNote: note })
    .where(eq(lotHolds.id, hold.id));
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "let go",
    before: { reason: hold.reason },
    after: { note, units: lot.balance },
  });
  return ok({ lotId });
}

async function openHold(transaction: Transaction, lotId: number) {
  const [hold] = await transaction
    .select()
    .from(lotHolds)
    .where(and(eq(lotHolds.lotId, lotId), isNull(lotHolds.releasedAt)));
  return hold;
}
