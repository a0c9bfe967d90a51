import { and, asc, eq, gt, inArray, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { recalls } from "../../db/schema/recalls.ts";
import { supplyLotBalances, supplyLots } from "../../db/schema/supplyLots.ts";

/** A condition: the lot of a supply is called back. */
export const isRecalled = sql<boolean>`exists (select 1 from ${recalls}
  where ${recalls.supplyLotId} = ${supplyLots.id} and ${recalls.endedAt} is null)`;

/** Lots with something in them, in the order they came: of the supplies that are named, or of all. */
export async function lotsOnHand(db: Database | Transaction, supplyIds?: readonly number[]) {
  return await db
    .select({
      supplyId: supplyLots.supplyId,
      lotId: supplyLots.id,
      code: supplyLots.code,
      supplierLot: supplyLots.supplierLot,
      amount: supplyLotBalances.amount,
      receivedOn: supplyLots.receivedOn,
      expiresOn: supplyLots.expiresOn,
      recalled: isRecalled,
    })
    .from(supplyLots)
    .innerJoin(supplyLotBalances, eq(supplyLotBalances.lotId, supplyLots.id))
    .where(
      and(
        gt(supplyLotBalances.amount, 0),
        supplyIds === undefined ? undefined : inArray(supplyLots.supplyId, [...supplyIds]),
      ),
    )
    .orderBy(asc(supplyLots.id));
}
