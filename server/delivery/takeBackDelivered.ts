import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { orders } from "../../db/schema/orders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { DeliveryRefusal } from "./refusals.ts";
import { lockOrderOfDelivery } from "./writeParcel.ts";

/** A delivery was ticked off by mistake: it is under way again, and so is its order where that was delivered. */
export async function takeBackDelivered(
  transaction: Transaction,
  actor: Actor,
  { deliveryId }: { readonly deliveryId: number },
): Promise<Result<{ readonly deliveryId: number }, DeliveryRefusal>> {
  const order = await lockOrderOfDelivery(transaction, deliveryId);
  if (!order) return refuse({ why: "no-such-delivery" });
  const back = and(eq(deliveries.id, deliveryId), eq(deliveries.state, "delivered"));
  const [before] = await transaction.select().from(deliveries).where(back);
  if (!before) return refuse({ why: "not-arrived", reference: order.reference });
  await transaction
    .update(deliveries)
    .set({ state: "shipped", deliveredAt: null, receivedBy: "" })
    .where(eq(deliveries.id, deliveryId));
  const state = order.state === "delivered" ? "shipped" : order.state;
  await transaction.update(orders).set({ state, deliveredAt: null }).where(eq(orders.id, order.id));
  await recordChange(transaction, actor, {
    ...{ subject: "order", subjectId: order.id, what: "arrival taken back" },
    before: { state: order.state, deliveredAt: before.deliveredAt, receivedBy: before.receivedBy },
    after: { state, deliveryId },
  });
  return ok({ deliveryId });
}
