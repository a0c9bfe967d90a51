import { and, asc, eq, inArray, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { packingParts, supplyMoves } from "../../db/schema/supplyLots.ts";
import type { Actor } from "../http/visitor.ts";
import { workshopDay } from "../workshop/workshopDay.ts";
import { packWith } from "./explosion.ts";
import { giveBack } from "./giveBack.ts";
import { useUp } from "./useUp.ts";

/**
 * Brings what an order line is packed with to what its packed pieces need, whether pieces were just put into the box or
 * taken out: the difference is taken from the lots or given back. Told as a whole line, so that a box for a dozen is
 * one box however many times one reaches for pieces. The line is held by the caller.
 */
export async function bookPackaging(
  transaction: Transaction,
  actor: Actor,
  { orderLineId }: { readonly orderLineId: number },
): Promise<void> {
  const [line] = await transaction
    .select({ productId: lineProgress.productId, packedUnits: lineProgress.packedUnits })
    .from(lineProgress)
    .where(eq(lineProgress.orderLineId, orderLineId));
  if (!line) return;
  const parts = await transaction
    .select()
    .from(packingParts)
    .where(eq(packingParts.productId, line.productId))
    .orderBy(asc(packingParts.supplyId));
  if (parts.length === 0) return;
  const used = await usedFor(transaction, orderLineId);
  const wanted = new Map(packWith(parts, line.packedUnits).map(({ supplyId, amount }) => [supplyId, amount]));
  const changes = parts.map(({ supplyId }) => ({
    supplyId,
    amount: (wanted.get(supplyId) ?? 0) - (used.get(supplyId) ?? 0),
  }));
  const more = changes.filter(({ amount }) => amount > 0);
  const less = changes.flatMap(({ supplyId, amount }) => (amount < 0 ? [{ supplyId, amount: -amount }] : []));
  if (less.length > 0) await giveBack(transaction, actor, { orderLineId }, less);
  if (more.length === 0) return;
  const day = await workshopDay(transaction, actor.at);
  await useUp(transaction, actor, { needs: more, usedFor: { orderLineId }, day });
}

async function usedFor(transaction: Transaction, orderLineId: number): Promise<ReadonlyMap<number, number>> {
  const rows = await transaction
    .select({
      supplyId: supplyMoves.supplyId,
      amount: sql<number>`(-sum(${supplyMoves.amount}))::double precision`,
    })
    .from(supplyMoves)
    .where(and(eq(supplyMoves.orderLineId, orderLineId), inArray(supplyMoves.kind, ["used", "unused"])))
    .groupBy(supplyMoves.supplyId)
    .orderBy(asc(supplyMoves.supplyId));
  return new Map(rows.map(({ supplyId, amount }) => [supplyId, amount]));
}
