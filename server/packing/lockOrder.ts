import { asc, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";

export type LockedOrder = typeof orders.$inferSelect;

/**
 * Locks an order and then its lines by id. Whoever packs, unpacks, ships or changes an order takes these locks
 * first and those of lots after, so that people who want the same things wait in one queue instead of for each other.
 */
export async function lockOrder(transaction: Transaction, orderId: number): Promise<LockedOrder | undefined> {
  const [order] = await transaction.select().from(orders).where(eq(orders.id, orderId)).for("update");
  await transaction
    .select({ id: orderLines.id })
    .from(orderLines)
    .where(eq(orderLines.orderId, orderId))
    .orderBy(asc(orderLines.id))
    .for("update");
  return order;
}

/** The same for the order that a line belongs to; a line never moves to another order. */
export async function lockOrderOfLine(
  transaction: Transaction,
  orderLineId: number,
): Promise<LockedOrder | undefined> {
  const [line] = await transaction
    .select({ orderId: orderLines.orderId })
    .from(orderLines)
    .where(eq(orderLines.id, orderLineId));
  return line && lockOrder(transaction, line.orderId);
}
