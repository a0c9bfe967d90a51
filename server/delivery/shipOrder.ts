import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { orders } from "../../db/schema/orders.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { readBox } from "../packing/box.ts";
import { type LockedOrder, lockOrder } from "../packing/lockOrder.ts";
import { onceAllLeft, readDepartures } from "./departures.ts";
import type { ShippingForm } from "./forms.ts";
import type { DeliveryRefusal } from "./refusals.ts";

type OrderToShip = ShippingForm & { readonly orderId: number };

/**
 * Lets everything that stands packed for an order leave, now, as one delivery. An order that takes part deliveries
 * may do so while it is being packed and stays in packing with what is left; every other order leaves when it is
 * marked packed.
 */
export async function shipOrder(
  transaction: Transaction,
  actor: Actor,
  { orderId, ...way }: OrderToShip,
): Promise<Result<{ readonly deliveryId: number }, DeliveryRefusal>> {
  const order = await lockOrder(transaction, orderId);
  if (!order) return refuse({ why: "no-such-order" });
  const refusal = whyItStays(order);
  if (refusal) return refuse(refusal);
  const box = (await readBox(transaction, orderId)).filter((content) => content.packed > content.shipped);
  if (box.length === 0) return refuse({ why: "box-empty", reference: order.reference });

  const [delivery] = await transaction
    .insert(deliveries)
    .values({ orderId, ...way, state: "shipped", shippedAt: actor.at })
    .returning({ id: deliveries.id });
  if (!delivery) throw new Error("The delivery's row did not come back");
  await transaction.insert(deliveryLines).values(
    box.map(({ orderLineId, lotId, packed, shipped }) => ({
      deliveryId: delivery.id,
      orderLineId,
      lotId,
      units: packed - shipped,
    })),
  );
  await leave(transaction, actor, order, { deliveryId: delivery.id, ...way });
  return ok({ deliveryId: delivery.id });
}

function whyItStays({ state, terms, reference }: LockedOrder): DeliveryRefusal | null {
  if (state === "packed" || (state === "packing" && terms === "as-ready")) return null;
  if (state !== "packing") return { why: "cannot-leave", reference, state };
  return { why: terms === "market" ? "mark-first" : "leaves-whole", reference };
}

/** A packed order has left; one still being packed has left only when this was the last of its pieces. */
async function leave(
  transaction: Transaction,
  actor: Actor,
  order: LockedOrder,
  delivery: object,
): Promise<void> {
  const lines = await transaction.select().from(lineProgress).where(eq(lineProgress.orderId, order.id));
  const allLeft = lines.every((line) => line.shippedUnits === line.orderedUnits);
  const gone = order.state === "packed" || allLeft;
  if (gone)
    await transaction
      .update(orders)
      .set({
        ...onceAllLeft(await readDepartures(transaction, order.id)),
        packedAt: order.packedAt ?? actor.at,
      })
      .where(eq(orders.id, order.id));
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: order.id,
    what: gone ? "shipped" : "shipped in part",
    before: { state: order.state },
    after: { state: gone ? "shipped" : order.state, ...delivery },
  });
}
