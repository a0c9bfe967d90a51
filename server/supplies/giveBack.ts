import { and, asc, eq, inArray, isNull, max, type SQL, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { supplyMoves } from "../../db/schema/supplyLots.ts";
import type { Actor } from "../http/visitor.ts";
import { lockSupplies } from "./lockSupplies.ts";
import type { SupplyNeed, UsedFor } from "./useUp.ts";

interface LotUse {
  readonly supplyId: number;
  readonly lotId: number | null;
  /** Taken and not given back, more than nothing. */
  readonly amount: number;
  /** Whether the supply was counted after it had been taken. */
  readonly settled: boolean;
}

/**
 * Gives back what was taken for a run or an order line: all of it, or so much of each supply. What was taken beyond the
 * ledger comes back first, then what was taken last. A count that was made after the taking stands: what was there was
 * seen then, so the lot keeps what was counted, and only what it was used for is put right.
 */
export async function giveBack(
  transaction: Transaction,
  actor: Actor,
  usedFor: UsedFor,
  needs: readonly SupplyNeed[] | "all",
): Promise<void> {
  const supplyIds =
    needs === "all" ? await suppliesOf(transaction, usedFor) : needs.map(({ supplyId }) => supplyId);
  await lockSupplies(transaction, supplyIds);
  const uses = await usesOf(transaction, usedFor, supplyIds);
  const left = new Map(needs === "all" ? [] : needs.map(({ supplyId, amount }) => [supplyId, amount]));
  const rows = uses.flatMap((use) => {
    const amount = needs === "all" ? use.amount : Math.min(use.amount, left.get(use.supplyId) ?? 0);
    left.set(use.supplyId, (left.get(use.supplyId) ?? 0) - amount);
    return amount > 0 ? returned(actor, usedFor, { ...use, amount }) : [];
  });
  if (rows.length > 0) await transaction.insert(supplyMoves).values(rows);
}

/** The moves that give one use back, in an order in which no sum is impossible between them. */
function returned(
  actor: Actor,
  usedFor: UsedFor,
  { supplyId, lotId, amount, settled }: LotUse,
): readonly (typeof supplyMoves.$inferInsert)[] {
  const common = { supplyId, lotId, ...usedFor, at: actor.at, personId: actor.personId };
  const back = { ...common, kind: "unused" as const, amount };
  if (!settled) return [back];
  const stands = { ...common, kind: "counted" as const, amount: -amount };
  return lotId === null ? [stands, back] : [back, stands];
}

/** As part of a statement: moves of one use. */
export function isFor(usedFor: UsedFor): SQL {
  return "runId" in usedFor
    ? eq(supplyMoves.runId, usedFor.runId)
    : eq(supplyMoves.orderLineId, usedFor.orderLineId);
}

async function suppliesOf(transaction: Transaction, usedFor: UsedFor): Promise<readonly number[]> {
  const rows = await transaction
    .selectDistinct({ supplyId: supplyMoves.supplyId })
    .from(supplyMoves)
    .where(isFor(usedFor))
    .orderBy(asc(supplyMoves.supplyId));
  return rows.map(({ supplyId }) => supplyId);
}

async function usesOf(
  transaction: Transaction,
  usedFor: UsedFor,
  supplyIds: readonly number[],
): Promise<readonly LotUse[]> {
  const sum = sql<number>`(-sum(${supplyMoves.amount}))::double precision`;
  const rows = await transaction
    .select({
      supplyId: supplyMoves.supplyId,
      lotId: supplyMoves.lotId,
      amount: sum,
      last: sql<number>`(max(${supplyMoves.id}) filter (where ${eq(supplyMoves.kind, "used")}))::double precision`,
    })
    .from(supplyMoves)
    .where(
      and(
        isFor(usedFor),
        inArray(supplyMoves.supplyId, [...supplyIds]),
        inArray(supplyMoves.kind, ["used", "unused"]),
      ),
    )
    .groupBy(supplyMoves.supplyId, supplyMoves.lotId)
    .having(sql`sum(${supplyMoves.amount}) < 0`)
    .orderBy(
      asc(supplyMoves.supplyId),
      sql`${supplyMoves.lotId} is not null`,
      sql`max(${supplyMoves.id}) desc`,
    );
  const counts = await lastCounts(transaction, supplyIds);
  return rows.map(({ last, ...use }) => ({
    ...use,
    settled: (counts.get(`${use.supplyId} ${use.lotId}`) ?? 0) > last,
  }));
}

/** When each lot, and what was used beyond the lots, was counted last: the number of that move. */
async function lastCounts(
  transaction: Transaction,
  supplyIds: readonly number[],
): Promise<ReadonlyMap<string, number>> {
  const rows = await transaction
    .select({ supplyId: supplyMoves.supplyId, lotId: supplyMoves.lotId, last: max(supplyMoves.id) })
    .from(supplyMoves)
    .where(
      and(
        inArray(supplyMoves.supplyId, [...supplyIds]),
        eq(supplyMoves.kind, "counted"),
        // One that undoes a correction is no count.
        isNull(supplyMoves.runId),
        isNull(supplyMoves.orderLineId),
      ),
    )
    .groupBy(supplyMoves.supplyId, supplyMoves.lotId)
    .orderBy(asc(supplyMoves.supplyId));
  return new Map(rows.map(({ supplyId, lotId, last }) => [`${supplyId} ${lotId}`, last ?? 0]));
}
