import type { Transaction } from "../../db/connect.ts";
import { ok, type Result } from "../basics/result.ts";
import { recordDelivered } from "../delivery/recordDelivered.ts";
import type { DeliveryRefusal } from "../delivery/refusals.ts";
import { shipOrder } from "../delivery/shipOrder.ts";
import { takeBackDelivered } from "../delivery/takeBackDelivered.ts";
import type { Actor } from "../http/visitor.ts";

/** Lets these orders leave on the round, all of them or none. They are locked by their numbers, smallest first. */
export async function leaveOnRound(
  transaction: Transaction,
  actor: Actor,
  { order }: { readonly order: readonly number[] },
): Promise<Result<null, DeliveryRefusal>> {
  for (const orderId of inTurn(order)) {
    const left = await shipOrder(transaction, actor, { orderId, how: "local-round", parcels: [] });
    if (!left.ok) return left;
  }
  return ok(null);
}

/** Ticks off at a door what was handed over there, with the name of who took it, now. */
export async function handOver(
  transaction: Transaction,
  actor: Actor,
  { delivery, receivedBy }: { readonly delivery: readonly number[]; readonly receivedBy: string },
): Promise<Result<null, DeliveryRefusal>> {
  for (const deliveryId of inTurn(delivery)) {
    const arrived = await recordDelivered(transaction, actor, { deliveryId, receivedBy });
    if (!arrived.ok) return arrived;
  }
  return ok(null);
}

/** Takes that back. */
export async function takeBackHandOver(
  transaction: Transaction,
  actor: Actor,
  { delivery }: { readonly delivery: readonly number[] },
): Promise<Result<null, DeliveryRefusal>> {
  for (const deliveryId of inTurn(delivery)) {
    const back = await takeBackDelivered(transaction, actor, { deliveryId });
    if (!back.ok) return back;
  }
  return ok(null);
}

/** Each once, the smallest first: orders come before the deliveries that were made of them. */
function inTurn(ids: readonly number[]): readonly number[] {
  return [...new Set(ids)].toSorted((one, other) => one - other);
}
