import { and, asc, desc, eq, gt, gte, or, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { lots } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { blends, products } from "../../db/schema/products.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { stoppedInOrder } from "../holds/orderStops.ts";
import { stoppedPackaging } from "../holds/packagingStops.ts";
import { blendLook } from "../products/blendLook.ts";
import { sellsInOunces, withParcels } from "./parcelQueries.ts";

/** How long an arrival stays on the list, and how many are shown at most. */
const LATELY_DAYS = 14;
const MOST_ARRIVALS = 50;
/** Deliveries under way on one page: where nobody ticks them off, there are thousands in the end. */
const MOST_UNDER_WAY = 100;

const orderedUnits = sql<number>`sum(${lineProgress.orderedUnits})::integer`;
const packedUnits = sql<number>`sum(${lineProgress.packedUnits})::integer`;
const standingHere = sql<number>`sum(${lineProgress.packedUnits} - ${lineProgress.shippedUnits})::integer`;

const whatOrder = {
  orderId: orders.id,
  reference: orders.reference,
  terms: orders.terms,
  state: orders.state,
  shipBy: orders.shipBy,
  customer: customers.name,
  kind: customers.kind,
};

/** What stands packed and may leave: whole orders, and what is ready of those that take part deliveries; by promise. */
export async function listWaitingToLeave(db: Database) {
  return await db
    .select({ ...whatOrder, ordered: orderedUnits, packed: packedUnits, standing: standingHere })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .innerJoin(lineProgress, eq(lineProgress.orderId, orders.id))
    .where(or(eq(orders.state, "packed"), and(eq(orders.state, "packing"), eq(orders.terms, "as-ready"))))
    .groupBy(orders.id, customers.id)
    .having(gt(standingHere, 0))
    .orderBy(asc(orders.shipBy), asc(orders.reference), asc(orders.id));
}

/** One order that is to leave, and where it goes; nothing else of the customer. */
export async function findOrderToShip(db: Database, orderId: number) {
  const [order] = await db
    .select({
      ...whatOrder,
      address: customers.address,
      takesBy: customers.takesBy,
      ordered: orderedUnits,
      packed: packedUnits,
      standing: standingHere,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .innerJoin(lineProgress, eq(lineProgress.orderId, orders.id))
    .where(eq(orders.id, orderId))
    .groupBy(orders.id, customers.id);
  if (!order) return undefined;
  return {
    ...order,
    stopped: await stoppedInOrder(db, orderId),
    stoppedPackaging: await stoppedPackaging(db, orderId),
  };
}

const whatDelivery = {
  deliveryId: deliveries.id,
  orderId: orders.id,
  reference: orders.reference,
  shipBy: orders.shipBy,
  customer: customers.name,
  how: deliveries.how,
  shippedAt: deliveries.shippedAt,
  deliveredAt: deliveries.deliveredAt,
  units: sql<number>`(select sum(${deliveryLines.units}) from ${deliveryLines}
    where ${deliveryLines.deliveryId} = ${deliveries.id})::integer`,
};

/** What has left and not arrived, the longest away first, and how many there are in all. */
export async function listUnderWay(db: Database) {
  const away = eq(deliveries.state, "shipped");
  const rows = await db
    .select(whatDelivery)
    .from(deliveries)
    .innerJoin(orders, eq(orders.id, deliveries.orderId))
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(away)
    .orderBy(asc(deliveries.shippedAt), asc(deliveries.id))
    .limit(MOST_UNDER_WAY);
  return { rows: await withParcels(db, rows), total: await db.$count(deliveries, away) };
}

/** What arrived in the last two weeks, the newest first, at most 50. */
export async function listArrivedLately(db: Database, now: Date) {
  const since = new Date(now.getTime() - LATELY_DAYS * 24 * 60 * 60 * 1000);
  const rows = await db
    .select(whatDelivery)
    .from(deliveries)
    .innerJoin(orders, eq(orders.id, deliveries.orderId))
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(and(eq(deliveries.state, "delivered"), gte(deliveries.deliveredAt, since)))
    .orderBy(desc(deliveries.deliveredAt), desc(deliveries.id))
    .limit(MOST_ARRIVALS);
  return await withParcels(db, rows);
}

/** One delivery with all that its packing slip says. */
export async function findDelivery(db: Database, deliveryId: number) {
  const [delivery] = await db
    .select({
      ...whatDelivery,
      terms: orders.terms,
      orderState: orders.state,
      address: customers.address,
      /** 1 for the first delivery of its order. */
      part: sql<number>`(select count(*) from deliveries as earlier
        where earlier.order_id = ${deliveries.orderId} and earlier.id <= ${deliveries.id})::integer`,
    })
    .from(deliveries)
    .innerJoin(orders, eq(orders.id, deliveries.orderId))
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(eq(deliveries.id, deliveryId));
  if (!delivery) return undefined;
  const lines = await linesOfSlip(db, delivery.orderId, deliveryId);
  const [{ parcels } = { parcels: [] }] = await withParcels(db, [delivery]);
  return {
    ...delivery,
    parcels,
    inOunces: await sellsInOunces(db),
    lines,
    stopped: (await stoppedInOrder(db, delivery.orderId)).flatMap((part) => {
      const units = unitsOfLot(lines, part.code);
      return units > 0 ? [{ ...part, units }] : [];
    }),
  };
}

function unitsOfLot(lines: Awaited<ReturnType<typeof linesOfSlip>>, code: string): number {
  return lines
    .flatMap((line) => line.lots)
    .reduce((sum, { lotCode, units }) => (lotCode === code ? sum + units : sum), 0);
}

/** Every line of the order: ordered, sent with this delivery by lot, and sent with it and those before it. */
async function linesOfSlip(db: Database, orderId: number, deliveryId: number) {
  const lines = await db
    .select({
      lineId: orderLines.id,
      product: products.name,
      look: blendLook,
      ordered: orderLines.units,
      sentSoFar: sql<number>`(select coalesce(sum(${deliveryLines.units}), 0) from ${deliveryLines}
        where ${deliveryLines.orderLineId} = ${orderLines.id} and ${deliveryLines.deliveryId} <= ${deliveryId})::integer`,
    })
    .from(orderLines)
    .innerJoin(products, eq(products.id, orderLines.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(and(eq(orderLines.orderId, orderId), gt(orderLines.units, 0)))
    .orderBy(asc(orderLines.id));
  const sent = await db
    .select({ lineId: deliveryLines.orderLineId, lotCode: lots.code, units: deliveryLines.units })
    .from(deliveryLines)
    .innerJoin(lots, eq(lots.id, deliveryLines.lotId))
    .where(eq(deliveryLines.deliveryId, deliveryId))
    .orderBy(asc(deliveryLines.id));
  return lines.map((line) => ({ ...line, lots: sent.filter((part) => part.lineId === line.lineId) }));
}
