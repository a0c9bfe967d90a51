import { and, asc, eq, inArray, type SQL, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { supplyMoves } from "../../db/schema/supplyLots.ts";
import type { Actor } from "../http/visitor.ts";
import { lockSupplies } from "./lockSupplies.ts";
import type { SupplyNeed, UsedFor } from "./useUp.ts";

/** What was taken for something of one lot, or beyond the ledger, and was not given back. Neither part is negative. */
interface LotUse {
  readonly supplyId: number;
  readonly lotId: number | null;
  /** Taken since the lot was counted last. */
  readonly open: number;
  /** Taken before the last count, which has settled it. */
  readonly settled: number;
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
    const most = needs === "all" ? Number.POSITIVE_INFINITY : (left.get(use.supplyId) ?? 0);
    const open = Math.min(use.open, most);
    const settled = Math.min(use.settled, most - open);
    left.set(use.supplyId, most - open - settled);
    return returned(actor, usedFor, { ...use, open, settled });
  });
  if (rows.length > 0) await transaction.insert(supplyMoves).values(rows);
}

/** The moves that give one use back, in an order in which no sum is impossible between them. */
function returned(
  actor: Actor,
  usedFor: UsedFor,
  { supplyId, lotId, open, settled }: LotUse,
): readonly (typeof supplyMoves.$inferInsert)[] {
  const common = { supplyId, lotId, ...usedFor, at: actor.at, personId: actor.personId };
  const back = (amount: number) => ({ ...common, kind: "unused" as const, amount });
  const stands = { ...common, kind: "counted" as const, amount: -settled };
  const pair = lotId === null ? [stands, back(settled)] : [back(settled), stands];
  return [...(open > 0 ? [back(open)] : []), ...(settled > 0 ? pair : [])];
}

/** As part of a statement: moves of one use. */
function isFor(usedFor: UsedFor): SQL {
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

/** What was taken for something, by supply: beyond the ledger first, then by lot, the one that was taken last first. */
export async function usesOf(
  transaction: Transaction,
  usedFor: UsedFor,
  supplyIds: readonly number[],
): Promise<readonly LotUse[]> {
  // One that undoes a correction, which says what for, is no count.
  const lastCount = sql`(select coalesce(max(c.id), 0) from ${supplyMoves} c
    where c.supply_id = supply_moves.supply_id and c.lot_id is not distinct from supply_moves.lot_id
      and c.kind = 'counted' and c.run_id is null and c.order_line_id is null)`;
  const rows = await transaction
    .select({
      supplyId: supplyMoves.supplyId,
      lotId: supplyMoves.lotId,
      amount: sql<number>`(-sum(${supplyMoves.amount}) filter (where ${supplyMoves.kind} <> 'counted'))::double precision`,
      since: sql<number>`(-coalesce(sum(${supplyMoves.amount}) filter (where ${supplyMoves.id} > ${lastCount}), 0))::double precision`,
    })
    .from(supplyMoves)
    .where(and(isFor(usedFor), inArray(supplyMoves.supplyId, [...supplyIds])))
    .groupBy(supplyMoves.supplyId, supplyMoves.lotId)
    .orderBy(
      asc(supplyMoves.supplyId),
      sql`${supplyMoves.lotId} is not null`,
      sql`max(${supplyMoves.id}) desc`,
    );
  return rows
    .filter(({ amount }) => amount > 0)
    .map(({ amount, since, ...use }) => {
      const open = Math.min(amount, Math.max(0, since));
      return { ...use, open, settled: amount - open };
    });
}
