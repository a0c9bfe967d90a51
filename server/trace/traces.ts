import type { Database } from "../../db/connect.ts";
import {
  findLot,
  findSupplyLot,
  findTracedOrder,
  lotsOfRuns,
  ordersOfLots,
  ordersPackedWith,
  packagingOfOrder,
  runsOfSupplyLot,
  suppliesOfRuns,
} from "./queries.ts";

/** From a lot of a supply to its batches, their pieces, and who has them; undefined where there is no such lot. */
export async function traceSupplyLot(db: Database, supplyLotId: number) {
  const lot = await findSupplyLot(db, supplyLotId);
  if (!lot) return undefined;
  const runs = await runsOfSupplyLot(db, supplyLotId);
  const pieces = await lotsOfRuns(
    db,
    runs.map(({ runId }) => runId),
  );
  return {
    ...{ lot, runs, pieces },
    orders: await ordersOfLots(
      db,
      pieces.map(({ id }) => id),
    ),
    packedWith: await ordersPackedWith(db, supplyLotId),
  };
}

export type SupplyLotTrace = NonNullable<Awaited<ReturnType<typeof traceSupplyLot>>>;

/** From a lot of pieces forward to who has them, and back to what its batch was mixed from. */
export async function traceLot(db: Database, lotId: number) {
  const lot = await findLot(db, lotId);
  if (!lot) return undefined;
  return {
    lot,
    supplies: await suppliesOfRuns(db, lot.runId === null ? [] : [lot.runId]),
    orders: await ordersOfLots(db, [lotId]),
  };
}

export type LotTrace = NonNullable<Awaited<ReturnType<typeof traceLot>>>;

/** From an order back to its lots, their batches, and every lot of a supply in them and around them. */
export async function traceOrder(db: Database, orderId: number) {
  const order = await findTracedOrder(db, orderId);
  if (!order) return undefined;
  const runIds = new Set(order.pieces.flatMap(({ runId }) => (runId === null ? [] : [runId])));
  return {
    order,
    supplies: await suppliesOfRuns(db, [...runIds]),
    packaging: await packagingOfOrder(db, orderId),
  };
}

export type OrderTrace = NonNullable<Awaited<ReturnType<typeof traceOrder>>>;
