import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { supplyMoves } from "../../db/schema/supplyLots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { countedAmount } from "./amounts.ts";
import { lockSupply } from "./lockSupplies.ts";

export interface SupplyCount {
  readonly supplyId: number;
  /** The newest move when the counting began; a ledger that has moved on since makes the count void. */
  readonly lastMove: number;
  /** What was really there of each lot, in thousandths of a gram or of a piece. */
  readonly counted: readonly { readonly lotId: number; readonly thousandths: number }[];
  readonly note: string;
}

export type CountRefusal =
  | { readonly kind: "not-found" }
  | { readonly kind: "moved-since" }
  /** A lot the ledger has something of, of which nothing was said. */
  | { readonly kind: "lot-left-out"; readonly lotId: number }
  | { readonly kind: "part-of-a-piece"; readonly lotId: number };

/**
 * Brings a supply's ledger to what was counted: each lot by a move of the difference, written even where it is none, so
 * that the ledger says since when it is right. A count is of the whole supply, so it also settles what had been used
 * beyond the ledger: wherever that came from, what is left is known again.
 */
export async function countSupply(
  transaction: Transaction,
  actor: Actor,
  { supplyId, lastMove, counted: typed, note }: SupplyCount,
): Promise<Result<{ readonly supplyId: number }, CountRefusal>> {
  const locked = await lockSupply(transaction, supplyId);
  if (!locked) return refuse({ kind: "not-found" });
  if (locked.lastMove !== lastMove) return refuse({ kind: "moved-since" });
  const counted: { readonly lotId: number; readonly amount: number }[] = [];
  for (const { lotId, thousandths } of typed) {
    const amount = countedAmount(thousandths, locked.supply.kind);
    if (!amount.ok) return refuse({ kind: amount.refusal, lotId });
    counted.push({ lotId, amount: amount.value });
  }
  const leftOut = locked.lots.find((lot) => !counted.some(({ lotId }) => lotId === lot.lotId));
  if (leftOut) return refuse({ kind: "lot-left-out", lotId: leftOut.lotId });

  const there = new Map(locked.lots.map(({ lotId, amount }) => [lotId, amount]));
  const differences: { readonly lotId: number | null; readonly amount: number }[] = counted
    .filter(({ lotId, amount }) => there.has(lotId) || amount > 0)
    .map(({ lotId, amount }) => ({ lotId, amount: amount - (there.get(lotId) ?? 0) }));
  if (locked.beyond > 0) differences.push({ lotId: null, amount: locked.beyond });
  if (differences.length > 0) {
    const common = { supplyId, kind: "counted" as const, note, at: actor.at, personId: actor.personId };
    await transaction.insert(supplyMoves).values(differences.map((one) => ({ ...common, ...one })));
  }
  await recordChange(transaction, actor, {
    subject: "supply",
    subjectId: supplyId,
    what: "counted",
    before: { lots: locked.lots.map(({ lotId, amount }) => ({ lotId, amount })), beyond: locked.beyond },
    after: { lots: counted, note },
  });
  return ok({ supplyId });
}
