import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { orders } from "../../db/schema/orders.ts";
import type { Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { confirmOrder } from "./confirmOrder.ts";
import type { CarriedAdvice } from "./promiseForm.ts";
import type { ConfirmRefusal } from "./refusals.ts";

/**
 * Keeps the advice a form carried beside the order it has just been written into, in the same transaction. A form that
 * carried none leaves an earlier advice standing.
 */
export async function withAdvice<Written extends { readonly orderId: number }, Refusal>(
  transaction: Transaction,
  actor: Actor,
  advice: CarriedAdvice | null,
  written: Promise<Result<Written, Refusal>>,
): Promise<Result<Written, Refusal>> {
  const outcome = await written;
  if (!outcome.ok || advice === null) return outcome;
  const { orderId } = outcome.value;
  await transaction
    .update(orders)
    .set({ advisedShipBy: advice.shipBy, advisedAt: advice.at, confirmedAgainstAdviceBy: null })
    .where(eq(orders.id, orderId));
  await markAgainstAdvice(transaction, actor, orderId);
  return outcome;
}

/** Confirms a draft, and remembers who did where the advice it carries said otherwise. */
export async function confirmAdvised(
  transaction: Transaction,
  actor: Actor,
  command: { readonly orderId: number },
): Promise<Result<{ readonly orderId: number }, ConfirmRefusal>> {
  const confirmed = await confirmOrder(transaction, actor, command);
  if (confirmed.ok) await markAgainstAdvice(transaction, actor, command.orderId);
  return confirmed;
}

async function markAgainstAdvice(transaction: Transaction, actor: Actor, orderId: number): Promise<void> {
  const [order] = await transaction.select().from(orders).where(eq(orders.id, orderId));
  if (!order?.confirmedAt || !order.advisedAt) return;
  const { advisedShipBy, shipBy } = order;
  if (advisedShipBy !== null && advisedShipBy <= shipBy) return;
  await transaction
    .update(orders)
    .set({ confirmedAgainstAdviceBy: actor.personId })
    .where(eq(orders.id, orderId));
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: orderId,
    what: "promised against the advice",
    after: { advised: advisedShipBy, promised: shipBy },
  });
}
