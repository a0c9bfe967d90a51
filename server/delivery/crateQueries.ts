import { and, asc, eq, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { crateLoads } from "../../db/schema/crateLoads.ts";
import { customers } from "../../db/schema/customers.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { blends, products } from "../../db/schema/products.ts";
import { blendLook } from "../products/blendLook.ts";

export type CrateToLoad = NonNullable<Awaited<ReturnType<typeof findCrate>>>;

/** A market's crate with what is packed of it, by product and lot, and what of that stands in the car. */
export async function findCrate(db: Database, orderId: number) {
  const [order] = await db
    .select({
      orderId: orders.id,
      reference: orders.reference,
      state: orders.state,
      customer: customers.name,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(and(eq(orders.id, orderId), eq(orders.terms, "market")));
  return order && { ...order, parts: await listParts(db, orderId) };
}

async function listParts(db: Database, orderId: number) {
  const units = sql<number>`(-sum(${moves.units}))::integer`;
  return await db
    .select({
      line: orderLines.id,
      lot: lots.id,
      lotCode: lots.code,
      product: products.name,
      look: blendLook,
      units,
      loadedUnits: crateLoads.units,
      loadedBy: people.name,
      loadedAt: crateLoads.loadedAt,
    })
    .from(moves)
    .innerJoin(orderLines, eq(orderLines.id, moves.orderLineId))
    .innerJoin(lots, eq(lots.id, moves.lotId))
    .innerJoin(products, eq(products.id, orderLines.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .leftJoin(crateLoads, and(eq(crateLoads.orderLineId, orderLines.id), eq(crateLoads.lotId, lots.id)))
    .leftJoin(people, eq(people.id, crateLoads.loadedBy))
    .where(and(eq(orderLines.orderId, orderId), sql`${moves.kind} in ('packed', 'unpacked')`))
    .groupBy(
      orderLines.id,
      lots.id,
      products.id,
      blends.id,
      crateLoads.orderLineId,
      crateLoads.lotId,
      people.id,
    )
    .having(sql`sum(${moves.units}) < 0`)
    .orderBy(asc(products.name), asc(orderLines.id), asc(lots.code));
}
