import { asc, eq, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { lots } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";
import { products } from "../../db/schema/products.ts";
import { lotBalances } from "../../db/schema/sums.ts";
import { readBox } from "../packing/box.ts";

/** Lots with what stands on their cards; dates on the workshop's own clock. */
function selectLots(db: Database, timeZone: string) {
  return db
    .select({
      lotId: lots.id,
      lotCode: lots.code,
      product: products.name,
      gs1Number: products.gs1Number,
      state: lots.state,
      trays: lots.trays,
      units: sql<number>`case when ${lots.formedAt} is null then coalesce(${lots.plannedUnits}, 0) else ${lotBalances.units} end`,
      formedOn: sql<string | null>`(${lots.formedAt} at time zone ${timeZone})::date::text`,
      readyOn: sql<string | null>`case when ${lots.readyAt} is null
        then (${lots.readyDueAt} at time zone ${timeZone})::date::text end`,
    })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .orderBy(asc(lots.id))
    .$dynamic();
}

export type CardLot = Awaited<ReturnType<typeof selectLots>>[number];

export async function findCardLot(
  db: Database,
  lotId: number,
  timeZone: string,
): Promise<CardLot | undefined> {
  const [lot] = await selectLots(db, timeZone).where(eq(lots.id, lotId));
  return lot;
}

/** Lots of a run, in the order they were planned; none where there is no such run. */
export async function listCardLotsOfRun(db: Database, runId: number, timeZone: string) {
  return await selectLots(db, timeZone).where(eq(lots.runId, runId));
}

/** An order and what stands packed for it here, line by line and lot by lot; undefined where there is no such order. */
export async function findBoxedOrder(db: Database, orderId: number, timeZone: string) {
  const [order] = await db
    .select({ reference: orders.reference, customer: customers.name })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(eq(orders.id, orderId));
  if (!order) return undefined;
  const box = (await readBox(db, orderId)).filter(({ packed, shipped }) => packed > shipped);
  const boxed = await Promise.all(
    box.map(async ({ lotId, packed, shipped }) => {
      const lot = await findCardLot(db, lotId, timeZone);
      return lot ? [{ ...lot, units: packed - shipped }] : [];
    }),
  );
  return { ...order, lots: boxed.flat() };
}
