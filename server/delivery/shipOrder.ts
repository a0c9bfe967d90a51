import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { orders } from "../../db/schema/orders.ts";
import { parcels as parcelRows } from "../../db/schema/parcels.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { whyTheBoxStays } from "../holds/boxStops.ts";
import { whyThePackagingStays } from "../holds/packagingStops.ts";
import type { Actor } from "../http/visitor.ts";
import { readBox } from "../packing/box.ts";
import { type LockedOrder, lockOrder } from "../packing/lockOrder.ts";
import { whyNotParcel } from "./checkParcel.ts";
import { onceAllLeft, readDepartures } from "./departures.ts";
import type { ParcelFacts, ShippingFacts } from "./parcelForms.ts";
import type { DeliveryRefusal } from "./refusals.ts";

type OrderToShip = ShippingFacts & { readonly orderId: number };

/**
 * Lets everything that stands packed for an order leave, now, as one delivery. An order that takes part deliveries
 * may do so while it is being packed and stays in packing with what is left; every other order leaves when it is
 * marked packed.
 */
export async function shipOrder(
  transaction: Transaction,
  actor: Actor,
  { orderId, how, parcels }: OrderToShip,
): Promise<Result<{ readonly deliveryId: number }, DeliveryRefusal>> {
  const order = await lockOrder(transaction, orderId);
  if (!order) return refuse({ why: "no-such-order" });
  const refusal = whyItStays(order);
  if (refusal) return refuse(refusal);
  for (const parcel of parcels) {
    const wrong = await whyNotParcel(transaction, parcel);
    if (wrong) return refuse(wrong);
  }
  const box = (await readBox(transaction, orderId)).filter((content) => content.packed > content.shipped);
  if (box.length === 0) return refuse({ why: "box-empty", reference: order.reference });
  const stopped = await whyTheBoxStays(transaction, box);
  if (stopped) return refuse({ why: "lot-stopped", reference: order.reference, ...stopped });
  const packaging = await whyThePackagingStays(transaction, orderId);
  if (packaging) return refuse({ why: "packaging-recalled", reference: order.reference, packaging });

  const deliveryId = await writeDelivery(transaction, { orderId, how, at: actor.at }, box);
  const sent = await writeParcels(transaction, deliveryId, parcels);
  await leave(transaction, actor, order, { deliveryId, how, parcels: sent });
  return ok({ deliveryId });
}

async function writeDelivery(
  transaction: Transaction,
  { orderId, how, at }: { readonly orderId: number; readonly how: ShippingFacts["how"]; readonly at: Date },
  box: Awaited<ReturnType<typeof readBox>>,
): Promise<number> {
  const [delivery] = await transaction
    .insert(deliveries)
    .values({ orderId, how, state: "shipped", shippedAt: at })
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
  return delivery.id;
}

async function writeParcels(
  transaction: Transaction,
  deliveryId: number,
  parcels: readonly ParcelFacts[],
): Promise<readonly object[]> {
  const facts = parcels.map(({ currency: _, ...parcel }) => parcel);
  if (facts.length > 0)
    await transaction.insert(parcelRows).values(facts.map((parcel) => ({ ...parcel, deliveryId })));
  return facts;
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
