import { and, eq, gt } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import type { Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { type CarriedAdvice, keyOfLines } from "./promiseForm.ts";

/** What is being written: an order by its number, or one that is not there yet, and the advice its form carried. */
interface Advised {
  readonly orderId: number | null;
  readonly advice: CarriedAdvice | null;
}

/**
 * Enters, changes or confirms an order and keeps beside it, in the same transaction, the advice its form carried, if
 * that was given for just the lines it now has. An earlier advice stands for as long as the lines do. Whoever promises
 * less time than was advised is remembered.
 */
export async function withAdvice<Written extends { readonly orderId: number }, Refusal>(
  transaction: Transaction,
  actor: Actor,
  { orderId, advice }: Advised,
  write: () => Promise<Result<Written, Refusal>>,
): Promise<Result<Written, Refusal>> {
  const before = orderId === null ? null : await readPromise(transaction, orderId);
  const outcome = await write();
  if (!outcome.ok) return outcome;
  const written = outcome.value.orderId;
  const after = await readPromise(transaction, written);
  if (advice !== null && advice.forLines === after.lines)
    await setAdvice(transaction, written, { advisedShipBy: advice.shipBy, advisedAt: advice.at });
  else if (before !== null && before.lines !== after.lines)
    await setAdvice(transaction, written, { advisedShipBy: null, advisedAt: null });
  await settleAgainst(transaction, actor, written, before?.shipBy ?? null);
  return outcome;
}

interface KeptAdvice {
  readonly advisedShipBy: string | null;
  readonly advisedAt: Date | null;
}

async function setAdvice(transaction: Transaction, orderId: number, advice: KeptAdvice): Promise<void> {
  await transaction
    .update(orders)
    .set({ ...advice, confirmedAgainstAdviceBy: null })
    .where(eq(orders.id, orderId));
}

/** Notes who promised against the advice that is kept, once for each date that is promised so; or that nobody does. */
async function settleAgainst(
  transaction: Transaction,
  actor: Actor,
  orderId: number,
  shipByBefore: string | null,
): Promise<void> {
  const [order] = await transaction.select().from(orders).where(eq(orders.id, orderId));
  if (!order) return;
  const { advisedShipBy, shipBy, confirmedAt, advisedAt, confirmedAgainstAdviceBy } = order;
  const isAgainst =
    confirmedAt !== null && advisedAt !== null && (advisedShipBy === null || advisedShipBy > shipBy);
  const stands = isAgainst && confirmedAgainstAdviceBy !== null && shipByBefore === shipBy;
  if (stands || (!isAgainst && confirmedAgainstAdviceBy === null)) return;
  await transaction
    .update(orders)
    .set({ confirmedAgainstAdviceBy: isAgainst ? actor.personId : null })
    .where(eq(orders.id, orderId));
  if (!isAgainst) return;
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: orderId,
    what: "promised against the advice",
    after: { advised: advisedShipBy, promised: shipBy },
  });
}

/** What is promised: the lines as `keyOfLines` has them, struck ones left out, and the date. */
async function readPromise(transaction: Transaction, orderId: number) {
  const [order] = await transaction
    .select({ shipBy: orders.shipBy })
    .from(orders)
    .where(eq(orders.id, orderId));
  const lines = await transaction
    .select({ productId: orderLines.productId, units: orderLines.units })
    .from(orderLines)
    .where(and(eq(orderLines.orderId, orderId), gt(orderLines.units, 0)));
  return { shipBy: order?.shipBy ?? null, lines: keyOfLines(lines) };
}
