import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { moves } from "../../db/schema/lots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockLot } from "./lockLot.ts";
import { isFormed } from "./lot.ts";
import type { ShelfRefusal } from "./refusals.ts";

interface Count {
  readonly lotId: number;
  /** Pieces that were really there. */
  readonly counted: number;
  /** What the ledger said when the counting began; a ledger that has moved on since makes the count void. */
  readonly expected: number;
  readonly note: string;
}

/**
 * Brings a lot's ledger to what was counted, by a move of the difference. A count that agrees moves nothing, but that
 * somebody counted is written down.
 */
export async function recordCount(
  transaction: Transaction,
  actor: Actor,
  { lotId, counted, expected, note }: Count,
): Promise<Result<{ readonly lotId: number }, ShelfRefusal>> {
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ kind: "not-found" });
  if (!isFormed(lot.state)) return refuse({ kind: "has-no-pieces" });
  if (lot.balance !== expected) return refuse({ kind: "moved-since", balance: lot.balance });
  if (counted !== lot.balance) {
    await transaction.insert(moves).values({
      lotId,
      kind: "counted",
      units: counted - lot.balance,
      note,
      at: actor.at,
      personId: actor.personId,
    });
  }
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "counted",
    before: { units: lot.balance },
    after: { units: counted, note },
  });
  return ok({ lotId });
}
