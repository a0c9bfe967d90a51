import { asc, eq, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orderLines } from "../../db/schema/orders.ts";

/** Pieces of one lot that were packed for one line, and how many of them have left. */
export type BoxContent = Awaited<ReturnType<typeof readBox>>[number];

/** What is or was in an order's boxes, by line and lot; what was wholly unpacked again is left out. */
export async function readBox(db: Database | Transaction, orderId: number) {
  const shipped = sql<number>`coalesce((select sum(${deliveryLines.units}) from ${deliveryLines}
    where ${deliveryLines.orderLineId} = ${moves.orderLineId} and ${deliveryLines.lotId} = ${moves.lotId}), 0)::integer`;
  return await db
    .select({
      orderLineId: orderLines.id,
      lotId: lots.id,
      lotCode: lots.code,
      shelfPlace: lots.shelfPlace,
      packed: sql<number>`(-sum(${moves.units}))::integer`,
      shipped,
    })
    .from(moves)
    .innerJoin(orderLines, eq(orderLines.id, moves.orderLineId))
    .innerJoin(lots, eq(lots.id, moves.lotId))
    .where(eq(orderLines.orderId, orderId))
    .groupBy(orderLines.id, lots.id, moves.orderLineId, moves.lotId)
    .having(sql`sum(${moves.units}) < 0`)
    .orderBy(asc(orderLines.id), asc(lots.id));
}
