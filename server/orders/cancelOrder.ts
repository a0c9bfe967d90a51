import { asc, eq, inArray, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "../packing/lockOrder.ts";
import { bookPackaging } from "../supplies/bookPackaging.ts";
import { mayCancel } from "./order.ts";
import type { CancelRefusal } from "./refusals.ts";

/** Cancels an order of which nothing has left yet; what was packed for it goes back to the shelf. */
export async function cancelOrder(
  transaction: Transaction,
  actor: Actor,
  { orderId }: { readonly orderId: number },
): Promise<Result<{ readonly orderId: number; readonly backOnShelf: number }, CancelRefusal>> {
  const order = await lockOrder(transaction, orderId);
  if (!order) return refuse({ why: "not-found" });
  if (!mayCancel(order.state)) return refuse({ why: "past-cancelling", state: order.state });
  const shipped = await shippedUnits(transaction, orderId);
  if (shipped > 0) return refuse({ why: "part-shipped", units: shipped });
  const backOnShelf = await unpackEverything(transaction, actor, orderId);
  await transaction
    .update(orders)
    .set({ state: "cancelled", packedAt: null, cancelledAt: actor.at })
    .where(eq(orders.id, orderId));
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: orderId,
    what: "cancelled",
    before: { state: order.state },
    after: { backOnShelf },
  });
  return ok({ orderId, backOnShelf });
}

async function shippedUnits(transaction: Transaction, orderId: number): Promise<number> {
  const [row] = await transaction
    .select({ units: sql<number>`coalesce(sum(${lineProgress.shippedUnits}), 0)::integer` })
    .from(lineProgress)
    .where(eq(lineProgress.orderId, orderId));
  return row?.units ?? 0;
}

/** Writes a move back for all that is packed, lot by lot; returns the pieces moved. */
async function unpackEverything(transaction: Transaction, actor: Actor, orderId: number): Promise<number> {
  const packed = await transaction
    .select({
      orderLineId: moves.orderLineId,
      lotId: moves.lotId,
      units: sql<number>`(-sum(${moves.units}))::integer`,
    })
    .from(moves)
    .innerJoin(orderLines, eq(orderLines.id, moves.orderLineId))
    .where(eq(orderLines.orderId, orderId))
    .groupBy(moves.orderLineId, moves.lotId)
    .having(sql`sum(${moves.units}) < 0`)
    .orderBy(asc(moves.orderLineId), asc(moves.lotId));
  if (packed.length === 0) return 0;
  // All lots by their number before the first move, as every command does: nobody waits in a ring.
  await transaction
    .select({ id: lots.id })
    .from(lots)
    .where(
      inArray(
        lots.id,
        packed.map((row) => row.lotId),
      ),
    )
    .orderBy(asc(lots.id))
    .for("update");
  await transaction.insert(moves).values(
    packed.map(({ orderLineId, lotId, units }) => ({
      lotId,
      orderLineId,
      kind: "unpacked" as const,
      units,
      note: "The order was cancelled.",
      at: actor.at,
      personId: actor.personId,
    })),
  );
  for (const orderLineId of new Set(packed.map((row) => row.orderLineId)))
    if (orderLineId !== null) await bookPackaging(transaction, actor, { orderLineId });
  return packed.reduce((sum, row) => sum + row.units, 0);
}
