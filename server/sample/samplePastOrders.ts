import { asc, eq } from "drizzle-orm";
import { DateTime } from "luxon";
import type { Transaction } from "../../db/connect.ts";
import { samplePastOrders } from "../../db/demo/pastOrders.ts";
import { orderLines } from "../../db/schema/orders.ts";
import { carriers } from "../../db/schema/parcels.ts";
import { dateAway, dateOf } from "../../views/format/dates.ts";
import { recordDelivered } from "../delivery/recordDelivered.ts";
import { shipOrder } from "../delivery/shipOrder.ts";
import type { Actor } from "../http/visitor.ts";
import { enterOrder } from "../orders/enterOrder.ts";
import { markPacked } from "../packing/markPacked.ts";
import { packPieces } from "../packing/packPieces.ts";
import { addStock } from "../shelf/addStock.ts";
import { entriesOf, known, taken } from "./known.ts";

interface Given {
  readonly products: ReadonlyMap<string, number>;
  readonly customers: ReadonlyMap<string, number>;
  readonly timeZone: string;
}

type PastOrder = (typeof samplePastOrders)[number];

/**
 * The orders of the weeks before, each entered, packed, sent and arrived on its own day. The oldest comes first, as
 * pieces and packaging are taken in the order of the days.
 */
export async function addSamplePastOrders(
  transaction: Transaction,
  actor: Actor,
  given: Given,
): Promise<void> {
  for (const order of samplePastOrders) {
    // Days of the calendar: with those of 24 hours some would be others' where clocks were changed meanwhile.
    const on = (daysAgo: number): Actor => ({
      ...actor,
      at: DateTime.fromJSDate(actor.at, { zone: given.timeZone }).minus({ days: daysAgo }).toJSDate(),
    });
    const orderId = await enter(transaction, on(order.confirmedDaysAgo), order, {
      ...given,
      shipBy: dateAway(dateOf(actor.at, given.timeZone), -order.shipByDaysAgo),
    });
    await pack(transaction, on(order.leftDaysAgo), orderId);
    const shipped = await shipOrder(transaction, on(order.leftDaysAgo), {
      ...{ orderId, how: order.parcel ? "parcel" : "local-round" },
      parcels: order.parcel ? [await parcelOf(transaction, order.parcel)] : [],
    });
    const { deliveryId } = taken(shipped);
    taken(await recordDelivered(transaction, on(order.arrivedDaysAgo), { deliveryId }));
  }
}

async function enter(
  transaction: Transaction,
  actor: Actor,
  { reference, customer, lines }: PastOrder,
  { products, customers, shipBy }: Given & { readonly shipBy: string },
): Promise<number> {
  const entered = await enterOrder(transaction, actor, {
    ...{ reference, customerId: known(customers, customer), terms: null, shipBy, note: "", confirm: true },
    lines: entriesOf(lines).map(([code, units]) => ({ productId: known(products, code), units })),
  });
  return taken(entered).orderId;
}

/** Each line whole, of a lot of its own that was entered by hand: no plan of the sample reaches back so far. */
async function pack(transaction: Transaction, actor: Actor, orderId: number): Promise<void> {
  const lines = await transaction
    .select({ id: orderLines.id, productId: orderLines.productId, units: orderLines.units })
    .from(orderLines)
    .where(eq(orderLines.orderId, orderId))
    .orderBy(asc(orderLines.id));
  for (const { id, productId, units } of lines) {
    const { lotId } = taken(await addStock(transaction, actor, { kind: "ready", productId, units }));
    taken(await packPieces(transaction, actor, { orderLineId: id, takes: [{ lotId, units }] }));
  }
  taken(await markPacked(transaction, actor, { orderId, leavesShort: false }));
}

async function parcelOf(
  transaction: Transaction,
  { carrier, grams, tracking }: NonNullable<PastOrder["parcel"]>,
) {
  const [row] = await transaction
    .select({ id: carriers.id })
    .from(carriers)
    .where(eq(carriers.name, carrier));
  if (!row) throw new Error(`The sample speaks of ${carrier}, which it does not have`);
  return { carrierId: row.id, service: "", grams, tracking };
}
