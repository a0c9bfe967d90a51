import { and, asc, eq, gt, inArray, not, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";
import { plans, runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { lineProgress, lotBalances } from "../../db/schema/sums.ts";
import { shapes, workshop } from "../../db/schema/workshop.ts";
import { isStopped } from "../holds/stops.ts";
import { blendLook } from "../products/blendLook.ts";
import type { Demand, Supply } from "./rollUp.ts";

/** What of the confirmed orders is not packed yet, a row an order line. */
export async function unpackedDemand(db: Database): Promise<readonly Demand[]> {
  const left = sql<number>`${lineProgress.orderedUnits} - ${lineProgress.packedUnits}`;
  return await db
    .select({ productId: lineProgress.productId, shipBy: orders.shipBy, units: left.mapWith(Number) })
    .from(lineProgress)
    .innerJoin(orders, eq(orders.id, lineProgress.orderId))
    .where(and(inArray(orders.state, ["confirmed", "packing"]), gt(left, 0)))
    .orderBy(asc(orders.shipBy), asc(lineProgress.orderLineId));
}

/**
 * What there is, and what the followed plan is going to press, of every product that has any of it. Lots that nothing may
 * be packed of are no supply.
 */
export async function supplyByProduct(db: Database): Promise<readonly Supply[]> {
  const sumWhere = (units: unknown, condition: unknown) =>
    sql<number>`coalesce(sum(${units}) filter (where ${condition}), 0)::integer`;
  const shelf = sumWhere(lotBalances.units, eq(lots.state, "ready"));
  const drying = sumWhere(lotBalances.units, inArray(lots.state, ["drying", "resting"]));
  // What is in the bowl is pressed soon, whichever plan it came from; what is not begun counts while its plan does.
  const toPress = sql`${lots.state} = 'mixing' or (${lots.state} = 'planned' and ${plans.state} = 'accepted')`;
  const planned = sumWhere(lots.plannedUnits, toPress);
  return await db
    .select({ productId: lots.productId, shelf, drying, planned })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .leftJoin(runs, eq(runs.id, lots.runId))
    .leftJoin(plans, eq(plans.id, runs.planId))
    .where(not(isStopped(lots.id)))
    .groupBy(lots.productId)
    .having(sql`${shelf} + ${drying} + ${planned} > 0`)
    .orderBy(asc(lots.productId));
}

/** Light blends first, as they are mixed; then shapes by name. */
export async function productFacts(db: Database, productIds: readonly number[]) {
  if (productIds.length === 0) return [];
  return await db
    .select({
      productId: products.id,
      blendId: products.blendId,
      shapeId: products.shapeId,
      pieceMilligrams: shapes.pieceMilligrams,
      look: blendLook,
      shape: shapes.name,
    })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(inArray(products.id, [...productIds]))
    .orderBy(asc(blends.shade), asc(blends.name), asc(shapes.name), asc(products.id));
}

export type ProductFacts = Awaited<ReturnType<typeof productFacts>>[number];

export async function bowlMilligrams(db: Database): Promise<number> {
  const [found] = await db.select({ milligrams: workshop.bowlMilligrams }).from(workshop);
  if (!found) throw new Error("The workshop is not set up");
  return found.milligrams;
}
