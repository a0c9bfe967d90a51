import { asc, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { orders } from "../../db/schema/orders.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "./lockOrder.ts";
import type { PackingRefusal } from "./refusals.ts";

interface OrderToMark {
  readonly orderId: number;
  /** A market's crate may leave with what there is; nothing else may. */
  readonly leavesShort: boolean;
}

/** Closes an order's box: every line full, or a market's crate that leaves with what there is. */
export async function markPacked(
  transaction: Transaction,
  actor: Actor,
  { orderId, leavesShort }: OrderToMark,
): Promise<Result<{ readonly orderId: number }, PackingRefusal>> {
  const order = await lockOrder(transaction, orderId);
  if (!order) return refuse({ why: "no-such-order" });
  if (order.state !== "packing" && order.state !== "confirmed")
    return refuse({ why: "wrong-state", reference: order.reference, state: order.state });
  const lines = await transaction
    .select()
    .from(lineProgress)
    .where(eq(lineProgress.orderId, orderId))
    .orderBy(asc(lineProgress.orderLineId));
  const packed = lines.reduce((sum, line) => sum + line.packedUnits, 0);
  const left = lines.reduce((sum, line) => sum + line.orderedUnits, 0) - packed;
  const mayLeaveShort = order.terms === "market";
  if (packed === 0) return refuse({ why: "nothing-packed" });
  if (left > 0 && !(leavesShort && mayLeaveShort)) return refuse({ why: "not-full", left, mayLeaveShort });

  await transaction.update(orders).set({ state: "packed", packedAt: actor.at }).where(eq(orders.id, orderId));
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: orderId,
    what: "marked packed",
    before: { state: order.state },
    after: { state: "packed", missing: left },
  });
  return ok({ orderId });
}
