import type { Transaction } from "../../db/connect.ts";
import { supplyMoves } from "../../db/schema/supplyLots.ts";
import type { Actor } from "../http/visitor.ts";
import { takeFefo } from "./fefo.ts";
import { type LockedSupply, lockSupplies } from "./lockSupplies.ts";

/** So much of a supply: whole milligrams, or pieces of what is packed with. */
export interface SupplyNeed {
  readonly supplyId: number;
  readonly amount: number;
}

/** What something was taken for. */
export type UsedFor = { readonly runId: number } | { readonly orderLineId: number };

export interface Use {
  readonly needs: readonly SupplyNeed[];
  readonly usedFor: UsedFor;
  /** The workshop's date, by which lots are good or not. */
  readonly day: string;
  /** Lots that somebody has in hand and wants to be taken first. */
  readonly chosenLots?: readonly number[];
}

/**
 * Takes supplies from their lots, first expired first out. It is never refused: whoever weighs out at the bench has the
 * stuff in hand, whatever the books say. What no lot had is booked without one, so that the supply is short by it until
 * somebody counts. Of what nobody keeps count of, nothing is booked.
 */
export async function useUp(transaction: Transaction, actor: Actor, use: Use): Promise<void> {
  const locked = await lockSupplies(
    transaction,
    use.needs.map(({ supplyId }) => supplyId),
  );
  const rows = use.needs.flatMap((need) => {
    const supply = locked.get(need.supplyId);
    return supply?.supply.counted === true ? movesOf(actor, need, supply, use) : [];
  });
  if (rows.length > 0) await transaction.insert(supplyMoves).values(rows);
}

function movesOf(
  actor: Actor,
  { supplyId, amount }: SupplyNeed,
  { lots }: LockedSupply,
  { usedFor, day, chosenLots }: Use,
): readonly (typeof supplyMoves.$inferInsert)[] {
  const { takes, beyond } = takeFefo(amount, lots, day, chosenLots);
  const taken = [...takes, ...(beyond > 0 ? [{ lotId: null, amount: beyond }] : [])];
  return taken.map((take) => ({
    ...{ supplyId, lotId: take.lotId, kind: "used" as const, amount: -take.amount },
    ...{ ...usedFor, at: actor.at, personId: actor.personId },
  }));
}
