import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { bookPackaging } from "../supplies/bookPackaging.ts";
import { readBox } from "./box.ts";
import { lockOrderOfLine } from "./lockOrder.ts";
import { givesPieces } from "./orderState.ts";
import type { PackingRefusal } from "./refusals.ts";

interface PiecesToUnpack {
  readonly orderLineId: number;
  readonly lotId: number;
  /** At least one. */
  readonly units: number;
}

/** Takes pieces out of an order's box and puts them back on the shelf. What has left the workshop stays away. */
export async function unpackPieces(
  transaction: Transaction,
  actor: Actor,
  { orderLineId, lotId, units }: PiecesToUnpack,
): Promise<Result<{ readonly orderId: number }, PackingRefusal>> {
  const order = await lockOrderOfLine(transaction, orderLineId);
  if (!order) return refuse({ why: "no-such-line" });
  if (!givesPieces(order.state))
    return refuse({ why: "wrong-state", reference: order.reference, state: order.state });
  const refusal = await whatIsInTheWay(transaction, order.id, { orderLineId, lotId, units });
  if (refusal) return refuse(refusal);

  await transaction.insert(moves).values({
    lotId,
    kind: "unpacked",
    units,
    orderLineId,
    at: actor.at,
    personId: actor.personId,
  });
  await bookPackaging(transaction, actor, { orderLineId });
  await transaction
    .update(orders)
    .set({ state: "packing", packedAt: null })
    .where(and(eq(orders.id, order.id), eq(orders.state, "packed")));
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: order.id,
    what: "unpacked from",
    before: { state: order.state },
    after: { state: "packing", orderLineId, lotId, units },
  });
  return ok({ orderId: order.id });
}

/** Locks the lot and says why the pieces cannot come out of the box, if they cannot. */
async function whatIsInTheWay(
  transaction: Transaction,
  orderId: number,
  { orderLineId, lotId, units }: PiecesToUnpack,
): Promise<PackingRefusal | null> {
  const [lot] = await transaction
    .select({ code: lots.code })
    .from(lots)
    .where(eq(lots.id, lotId))
    .for("update");
  if (!lot) return { why: "lot-unfit", lotCode: null };
  const box = await readBox(transaction, orderId);
  const content = box.find((entry) => entry.orderLineId === orderLineId && entry.lotId === lotId);
  const shipped = content?.shipped ?? 0;
  const inTheBox = (content?.packed ?? 0) - shipped;
  return units > inTheBox ? { why: "not-in-the-box", lotCode: lot.code, inTheBox, shipped } : null;
}
