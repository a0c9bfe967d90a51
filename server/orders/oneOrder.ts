import { and, asc, desc, eq, gt, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { changes } from "../../db/schema/changes.ts";
import { customers } from "../../db/schema/customers.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { blends, products } from "../../db/schema/products.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { withParcels } from "../delivery/parcelQueries.ts";

/** Changes shown of one order, the newest. */
const MOST_CHANGES = 200;

export type OrderHead = NonNullable<Awaited<ReturnType<typeof findOrder>>>;

export async function findOrder(db: Database | Transaction, orderId: number) {
  const [order] = await db
    .select({
      id: orders.id,
      reference: orders.reference,
      customerId: orders.customerId,
      customer: customers.name,
      address: customers.address,
      terms: orders.terms,
      shipBy: orders.shipBy,
      state: orders.state,
      note: orders.note,
      neededBy: orders.neededBy,
      customerReference: orders.customerReference,
      customerNote: orders.customerNote,
      source: orders.source,
      shopReference: orders.shopReference,
      advisedShipBy: orders.advisedShipBy,
      advisedAt: orders.advisedAt,
      againstAdviceBy: people.name,
      discountBasisPoints: orders.discountBasisPoints,
      shippingMinor: orders.shippingMinor,
      priceListId: orders.priceListId,
      currency: orders.currency,
      pricesIncludeTax: orders.pricesIncludeTax,
      rounding: orders.rounding,
      createdAt: orders.createdAt,
      confirmedAt: orders.confirmedAt,
      packedAt: orders.packedAt,
      shippedAt: orders.shippedAt,
      deliveredAt: orders.deliveredAt,
      cancelledAt: orders.cancelledAt,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .leftJoin(people, eq(people.id, orders.confirmedAgainstAdviceBy))
    .where(eq(orders.id, orderId));
  return order;
}

export type OrderLineRow = Awaited<ReturnType<typeof listLines>>[number];

/** The lines of an order in the order they were entered, with how far each is; struck ones are left out. */
export async function listLines(db: Database | Transaction, orderId: number) {
  return await db
    .select({
      id: lineProgress.orderLineId,
      productId: products.id,
      product: products.name,
      blend: blends.name,
      colour: blends.colour,
      pattern: blends.pattern,
      units: lineProgress.orderedUnits,
      unitPriceMinor: orderLines.unitPriceMinor,
      discountBasisPoints: orderLines.discountBasisPoints,
      packed: lineProgress.packedUnits,
      shipped: lineProgress.shippedUnits,
    })
    .from(lineProgress)
    .innerJoin(orderLines, eq(orderLines.id, lineProgress.orderLineId))
    .innerJoin(products, eq(products.id, lineProgress.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(and(eq(lineProgress.orderId, orderId), gt(lineProgress.orderedUnits, 0)))
    .orderBy(asc(lineProgress.orderLineId));
}

/** Which pieces of which lot are packed for the order now, by line and lot. */
export async function listPackedLots(db: Database, orderId: number) {
  return await db
    .select({
      lineId: orderLines.id,
      lotId: lots.id,
      code: lots.code,
      units: sql<number>`(-sum(${moves.units}))::integer`,
    })
    .from(moves)
    .innerJoin(orderLines, eq(orderLines.id, moves.orderLineId))
    .innerJoin(lots, eq(lots.id, moves.lotId))
    .where(eq(orderLines.orderId, orderId))
    .groupBy(orderLines.id, lots.id)
    .having(sql`sum(${moves.units}) < 0`)
    .orderBy(asc(orderLines.id), asc(lots.code));
}

export async function listDeliveries(db: Database, orderId: number) {
  const rows = await db
    .select({
      deliveryId: deliveries.id,
      how: deliveries.how,
      shippedAt: deliveries.shippedAt,
      deliveredAt: deliveries.deliveredAt,
      units: sql<number>`coalesce(sum(${deliveryLines.units}), 0)::integer`,
    })
    .from(deliveries)
    .leftJoin(deliveryLines, eq(deliveryLines.deliveryId, deliveries.id))
    .where(eq(deliveries.orderId, orderId))
    .groupBy(deliveries.id)
    .orderBy(asc(deliveries.id));
  return await withParcels(db, rows);
}

export type OrderChangeRow = Awaited<ReturnType<typeof listOrderChanges>>[number];

/** The history of an order, newest first. */
export async function listOrderChanges(db: Database, orderId: number) {
  return await db
    .select({
      id: changes.id,
      at: changes.at,
      person: people.name,
      what: changes.what,
      before: changes.before,
      after: changes.after,
    })
    .from(changes)
    .leftJoin(people, eq(people.id, changes.personId))
    .where(and(eq(changes.subject, "order"), eq(changes.subjectId, orderId)))
    .orderBy(desc(changes.id))
    .limit(MOST_CHANGES);
}
