import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { supplyMoves } from "../../db/schema/supplyLots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { countedAmount } from "./amounts.ts";
import { lockSupply } from "./lockSupplies.ts";

/** Why supplies are lost. */
export const supplyLossCauses = ["spilled", "spoiled", "expired", "sent-back"] as const;
export type SupplyLossCause = (typeof supplyLossCauses)[number];

export interface SupplyLoss {
  readonly supplyId: number;
  readonly lotId: number;
  /** Of a gram or of a piece. */
  readonly thousandths: number;
  readonly cause: SupplyLossCause;
  readonly note: string;
}

export type SupplyLossRefusal =
  | { readonly kind: "not-found" }
  | { readonly kind: "lot-unknown" }
  | { readonly kind: "part-of-a-piece" }
  | { readonly kind: "less-there"; readonly amount: number };

/** Takes what was spilled, spoiled or thrown away off a lot; refused when less is there, whoever took it just before. */
export async function loseSupply(
  transaction: Transaction,
  actor: Actor,
  { supplyId, lotId, thousandths, cause, note }: SupplyLoss,
): Promise<Result<{ readonly supplyId: number }, SupplyLossRefusal>> {
  const locked = await lockSupply(transaction, supplyId);
  if (!locked) return refuse({ kind: "not-found" });
  const lot = locked.lots.find((one) => one.lotId === lotId);
  if (!lot) return refuse({ kind: "lot-unknown" });
  const lost = countedAmount(thousandths, locked.supply.kind);
  if (!lost.ok) return refuse({ kind: lost.refusal });
  const amount = lost.value;
  if (amount > lot.amount) return refuse({ kind: "less-there", amount: lot.amount });
  await transaction.insert(supplyMoves).values({
    ...{ supplyId, lotId, kind: "lost", amount: -amount, cause, note },
    ...{ at: actor.at, personId: actor.personId },
  });
  await recordChange(transaction, actor, {
    subject: "supply lot",
    subjectId: lotId,
    what: "lost some",
    before: { amount: lot.amount },
    after: { amount: lot.amount - amount, cause, note },
  });
  return ok({ supplyId });
}
