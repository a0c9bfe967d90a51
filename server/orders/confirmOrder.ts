import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { orders } from "../../db/schema/orders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { fixPrices } from "../prices/fixPrices.ts";
import { keepPromises } from "./keepPromise.ts";
import { MOST_DAYS_AHEAD } from "./order.ts";
import type { ConfirmRefusal } from "./refusals.ts";
import { promisableDates } from "./today.ts";

/** Promises a draft: from now on it counts in the roll-up and the plan, at the prices of today. */
export async function confirmOrder(
  transaction: Transaction,
  actor: Actor,
  { orderId }: { readonly orderId: number },
): Promise<Result<{ readonly orderId: number }, ConfirmRefusal>> {
  const [order] = await transaction.select().from(orders).where(eq(orders.id, orderId)).for("update");
  if (!order) return refuse({ why: "not-found" });
  if (order.state !== "draft") return refuse({ why: "not-draft", state: order.state });
  const { today } = await promisableDates(transaction, actor.at, MOST_DAYS_AHEAD);
  if (order.shipBy < today) return refuse({ why: "date-gone-by", today });
  await transaction
    .update(orders)
    .set({ state: "confirmed", confirmedAt: actor.at })
    .where(eq(orders.id, orderId));
  await fixPrices(transaction, actor.at, [orderId]);
  await keepPromises(transaction, actor.at, [orderId]);
  await recordChange(transaction, actor, { subject: "order", subjectId: orderId, what: "confirmed" });
  return ok({ orderId });
}
