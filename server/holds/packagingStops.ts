import { asc, eq, inArray, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { packagingStops } from "../../db/schema/holds.ts";
import { orderLines } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { products } from "../../db/schema/products.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { supplyLots } from "../../db/schema/supplyLots.ts";

/** Recalled packaging around pieces of an order that have not left. */
export type StoppedPackaging = Awaited<ReturnType<typeof stoppedPackaging>>[number];

/** What of an order stands packed in packaging that is recalled, line by line. */
export async function stoppedPackaging(db: Database | Transaction, orderId: number) {
  return await db
    .select({
      orderLineId: orderLines.id,
      product: products.name,
      recallId: packagingStops.recallId,
      code: supplyLots.code,
      supply: supplies.name,
      reason: packagingStops.reason,
      since: packagingStops.since,
      person: people.name,
      amount: packagingStops.amount,
    })
    .from(orderLines)
    .innerJoin(packagingStops, eq(packagingStops.orderLineId, orderLines.id))
    .innerJoin(products, eq(products.id, orderLines.productId))
    .innerJoin(supplyLots, eq(supplyLots.id, packagingStops.supplyLotId))
    .innerJoin(supplies, eq(supplies.id, supplyLots.supplyId))
    .leftJoin(people, eq(people.id, packagingStops.personId))
    .where(eq(orderLines.orderId, orderId))
    .orderBy(asc(orderLines.id), asc(packagingStops.recallId));
}

/**
 * The first recalled packaging in which something of an order would leave; undefined where none. Holds what its lines were
 * packed with, by id and after the lots of pieces, so that whoever recalls it comes before the departure or after it.
 */
export async function whyThePackagingStays(
  transaction: Transaction,
  orderId: number,
): Promise<StoppedPackaging | undefined> {
  const usedFor = sql`(select m.supply_id from supply_moves m join ${orderLines} on ${orderLines.id} = m.order_line_id
    where ${orderLines.orderId} = ${orderId})`;
  await transaction
    .select({ id: supplies.id })
    .from(supplies)
    .where(inArray(supplies.id, usedFor))
    .orderBy(asc(supplies.id))
    .for("share");
  const [first] = await stoppedPackaging(transaction, orderId);
  return first;
}
