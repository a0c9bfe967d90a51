import { asc, inArray, isNull, max, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { supplyMoves } from "../../db/schema/supplyLots.ts";
import { groupBy } from "../basics/groupBy.ts";
import type { LotOnHand } from "./fefo.ts";
import { lotsOnHand } from "./lotsOnHand.ts";

export interface LockedSupply {
  readonly supply: typeof supplies.$inferSelect;
  /** Lots with something in them, as nobody else can change until the transaction ends. */
  readonly lots: readonly LotOnHand[];
  /** What was used beyond what the ledger had, and no count has settled yet; not negative. */
  readonly beyond: number;
  /** The number of the newest move; 0: none. */
  readonly lastMove: number;
}

/**
 * Holds supplies, by id, and reads what there is of them. Whoever writes to the ledger comes through here, after the
 * locks of orders, runs and lots of pieces, so that people who want the same things wait in one queue instead of for
 * each other. Sums are read after the locks, by statements of their own: only then do they know what the one waited
 * for has written.
 */
export async function lockSupplies(
  transaction: Transaction,
  supplyIds: readonly number[],
): Promise<ReadonlyMap<number, LockedSupply>> {
  if (supplyIds.length === 0) return new Map();
  const rows = await transaction
    .select()
    .from(supplies)
    .where(inArray(supplies.id, [...supplyIds]))
    .orderBy(asc(supplies.id))
    .for("no key update");
  const ids = rows.map(({ id }) => id);
  const lots = groupBy(await lotsOnHand(transaction, ids), ({ supplyId }) => supplyId);
  const sums = await transaction
    .select({
      supplyId: supplyMoves.supplyId,
      beyond: sql<number>`(-coalesce(sum(${supplyMoves.amount}) filter (where ${isNull(supplyMoves.lotId)}), 0))::double precision`,
      lastMove: max(supplyMoves.id),
    })
    .from(supplyMoves)
    .where(inArray(supplyMoves.supplyId, ids))
    .groupBy(supplyMoves.supplyId)
    .orderBy(asc(supplyMoves.supplyId));
  const sumOf = new Map(sums.map((sum) => [sum.supplyId, sum]));
  return new Map(
    rows.map((supply) => {
      const { beyond = 0, lastMove = 0 } = sumOf.get(supply.id) ?? {};
      return [supply.id, { supply, lots: lots.get(supply.id) ?? [], beyond, lastMove: lastMove ?? 0 }];
    }),
  );
}

/** The same for one. */
export async function lockSupply(
  transaction: Transaction,
  supplyId: number,
): Promise<LockedSupply | undefined> {
  return (await lockSupplies(transaction, [supplyId])).get(supplyId);
}
