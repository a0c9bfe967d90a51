import { and, asc, eq, inArray, ne } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { keptNow, keptPieces } from "../../db/schema/holds.ts";
import { lots } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";

const howItWasKept = and(
  eq(keptPieces.lotId, keptNow.lotId),
  eq(keptPieces.orderLineId, keptNow.orderLineId),
);

/** What is kept of the lots of some products, by lot, the first kept first. */
export async function keptByLot(db: Database, productIds: readonly number[]) {
  const kept = new Map<number, { readonly lineId: number; readonly units: number }[]>();
  if (productIds.length === 0) return kept;
  const rows = await db
    .select({ lotId: keptNow.lotId, lineId: keptNow.orderLineId, units: keptNow.units })
    .from(keptNow)
    .innerJoin(keptPieces, howItWasKept)
    .innerJoin(lots, eq(lots.id, keptNow.lotId))
    .where(inArray(lots.productId, [...productIds]))
    .orderBy(asc(keptPieces.keptAt), asc(keptNow.lotId), asc(keptNow.orderLineId));
  for (const { lotId, ...part } of rows) kept.set(lotId, [...(kept.get(lotId) ?? []), part]);
  return kept;
}

/** What of some lots is kept for other lines than this one, and for which orders. */
export async function keptForOthers(
  transaction: Transaction,
  orderLineId: number,
  lotIds: readonly number[],
) {
  if (lotIds.length === 0) return [];
  return await transaction
    .select({ lotId: keptNow.lotId, reference: orders.reference, units: keptNow.units })
    .from(keptNow)
    .innerJoin(orders, eq(orders.id, keptNow.orderId))
    .where(and(inArray(keptNow.lotId, [...lotIds]), ne(keptNow.orderLineId, orderLineId)))
    .orderBy(asc(keptNow.lotId), asc(orders.reference));
}
