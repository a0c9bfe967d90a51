import { eq, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { moves } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { onceAllLeft, readDepartures } from "../delivery/departures.ts";
import type { Actor } from "../http/visitor.ts";

/**
 * An order in packing that was cut down to what its part deliveries have carried away already is done: it becomes
 * shipped, or delivered when all of them have arrived, with the times at which that really happened.
 */
export async function settleWhenAllHasLeft(
  transaction: Transaction,
  actor: Actor,
  orderId: number,
): Promise<void> {
  const [left] = await transaction
    .select({
      units: sql<number>`sum(${lineProgress.orderedUnits} - ${lineProgress.shippedUnits})::integer`,
    })
    .from(lineProgress)
    .where(eq(lineProgress.orderId, orderId));
  if (left?.units !== 0) return;
  const departed = onceAllLeft(await readDepartures(transaction, orderId));
  await transaction
    .update(orders)
    .set({ ...departed, packedAt: await lastPacked(transaction, orderId) })
    .where(eq(orders.id, orderId));
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: orderId,
    what: departed.state,
    after: { nothingLeft: true },
  });
}

async function lastPacked(transaction: Transaction, orderId: number): Promise<Date> {
  const [row] = await transaction
    .select({ at: sql<Date>`max(${moves.at})`.mapWith(moves.at) })
    .from(moves)
    .innerJoin(orderLines, eq(orderLines.id, moves.orderLineId))
    .where(eq(orderLines.orderId, orderId));
  if (!row?.at) throw new Error(`Order ${orderId} left without being packed`);
  return row.at;
}
