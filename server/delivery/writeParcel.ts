import { isDeepStrictEqual } from "node:util";
import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { parcels } from "../../db/schema/parcels.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "../packing/lockOrder.ts";
import { whyNotParcel } from "./checkParcel.ts";
import type { ParcelFacts } from "./parcelForms.ts";
import type { DeliveryRefusal } from "./refusals.ts";

type Written = Result<{ readonly deliveryId: number }, DeliveryRefusal>;

/** Writes down another parcel of a delivery, which may have left long ago. */
export async function addParcel(
  transaction: Transaction,
  actor: Actor,
  { deliveryId, ...facts }: ParcelFacts & { readonly deliveryId: number },
): Promise<Written> {
  const order = await lockOrderOfDelivery(transaction, deliveryId);
  if (!order) return refuse({ why: "no-such-delivery" });
  const refusal = await whyNotParcel(transaction, facts);
  if (refusal) return refuse(refusal);
  const { currency: _, ...parcel } = facts;
  await transaction.insert(parcels).values({ ...parcel, deliveryId });
  await recordChange(transaction, actor, {
    ...{ subject: "order", subjectId: order.id, what: "parcel added" },
    after: { deliveryId, ...parcel },
  });
  return ok({ deliveryId });
}

/** Changes what is known of a parcel; what it cost stays where that is not said. */
export async function changeParcel(
  transaction: Transaction,
  actor: Actor,
  {
    deliveryId,
    parcelId,
    ...facts
  }: ParcelFacts & { readonly deliveryId: number; readonly parcelId: number },
): Promise<Written> {
  const order = await lockOrderOfDelivery(transaction, deliveryId);
  const row = order && (await findParcelOf(transaction, deliveryId, parcelId));
  if (!row) return refuse({ why: "no-such-parcel" });
  const { currency: _, ...parcel } = facts;
  const after = { ...row, ...parcel };
  if (isDeepStrictEqual(row, after)) return ok({ deliveryId });
  const refusal = await whyNotParcel(transaction, facts, row);
  if (refusal) return refuse(refusal);
  await transaction.update(parcels).set(parcel).where(eq(parcels.id, parcelId));
  await recordChange(transaction, actor, {
    ...{ subject: "order", subjectId: order.id, what: "parcel changed" },
    ...{ before: row, after },
  });
  return ok({ deliveryId });
}

/** Takes a parcel off that was written down by mistake; the history keeps what it was. */
export async function removeParcel(
  transaction: Transaction,
  actor: Actor,
  { deliveryId, parcelId }: { readonly deliveryId: number; readonly parcelId: number },
): Promise<Written> {
  const order = await lockOrderOfDelivery(transaction, deliveryId);
  const row = order && (await findParcelOf(transaction, deliveryId, parcelId));
  if (!row) return refuse({ why: "no-such-parcel" });
  await transaction.delete(parcels).where(eq(parcels.id, parcelId));
  await recordChange(transaction, actor, {
    ...{ subject: "order", subjectId: order.id, what: "parcel taken off" },
    before: row,
  });
  return ok({ deliveryId });
}

async function findParcelOf(transaction: Transaction, deliveryId: number, parcelId: number) {
  const [row] = await transaction
    .select()
    .from(parcels)
    .where(and(eq(parcels.id, parcelId), eq(parcels.deliveryId, deliveryId)));
  return row;
}

/** A delivery never moves to another order, so its order can be read before the lock that guards both. */
export async function lockOrderOfDelivery(transaction: Transaction, deliveryId: number) {
  const [found] = await transaction
    .select({ orderId: deliveries.orderId })
    .from(deliveries)
    .where(eq(deliveries.id, deliveryId));
  return found && (await lockOrder(transaction, found.orderId));
}
