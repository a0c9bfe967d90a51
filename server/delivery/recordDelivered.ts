import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { orders } from "../../db/schema/orders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { onceAllLeft, readDepartures } from "./departures.ts";
import type { DeliveryRefusal } from "./refusals.ts";
import { lockOrderOfDelivery } from "./writeParcel.ts";

/** Ticks a delivery off as arrived. The order is delivered with the last of its deliveries, once all its pieces left. */
export async function recordDelivered(
  transaction: Transaction,
  actor: Actor,
  { deliveryId, receivedBy = "" }: { readonly deliveryId: number; readonly receivedBy?: string },
): Promise<Result<{ readonly deliveryId: number }, DeliveryRefusal>> {
  const order = await lockOrderOfDelivery(transaction, deliveryId);
  if (!order) return refuse({ why: "no-such-delivery" });
  const arrived = await transaction
    .update(deliveries)
    .set({ state: "delivered", deliveredAt: actor.at, receivedBy })
    .where(and(eq(deliveries.id, deliveryId), eq(deliveries.state, "shipped")))
    .returning({ id: deliveries.id });
  if (arrived.length === 0) return refuse({ why: "arrived-already", reference: order.reference });

  const after =
    order.state === "shipped"
      ? onceAllLeft(await readDepartures(transaction, order.id))
      : { state: order.state };
  await transaction.update(orders).set(after).where(eq(orders.id, order.id));
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: order.id,
    what: "delivered",
    before: { state: order.state },
    after: { state: after.state, deliveryId, ...(receivedBy === "" ? {} : { receivedBy }) },
  });
  return ok({ deliveryId });
}
