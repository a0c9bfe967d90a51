import { and, asc, eq, gt, inArray, isNull, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { lotBalances } from "../../db/schema/sums.ts";
import { weekSessions } from "../../db/schema/workshop.ts";
import { dateOf, dayAfter } from "../../views/format/dates.ts";
import { listOrdersToPack, listPackedOrders } from "../packing/queries.ts";
import { readPlannedOutcomes } from "../plans/plannedOutcomes.ts";
import { blendLook } from "../products/blendLook.ts";
import type { DryingLot, OpenOrder, OpenRun, WeekFacts } from "./weekFacts.ts";

/** What the week's news are made from, as it stands at `now` on the workshop's clock. */
export async function readWeek(db: Database, now: Date, timeZone: string): Promise<WeekFacts> {
  const today = dateOf(now, timeZone);
  return {
    now,
    today,
    tomorrow: dayAfter(today),
    ...(await readBeginnings(db)),
    outcomes: await readPlannedOutcomes(db),
    orders: await readOpenOrders(db),
    runs: await readOpenRuns(db),
    lots: await readDryingLots(db, timeZone),
  };
}

async function readBeginnings(db: Database) {
  const [product] = await db
    .select({ id: products.id })
    .from(products)
    .where(isNull(products.retiredAt))
    .limit(1);
  const [session] = await db.select({ id: weekSessions.id }).from(weekSessions).limit(1);
  return { hasProducts: product !== undefined, hasSessions: session !== undefined };
}

/** As the packing table sees them, so that both speak of the same pieces. */
async function readOpenOrders(db: Database): Promise<readonly OpenOrder[]> {
  const unpacked = (await listOrdersToPack(db)).map(
    ({ orderId: id, reference, customer, shipBy, terms, left, free }) => ({
      ...{ id, reference, customer, shipBy },
      packing: { terms, left, free },
    }),
  );
  const packed = (await listPackedOrders(db)).map(({ orderId: id, ...order }) => ({
    id,
    ...order,
    packing: null,
  }));
  return [...unpacked, ...packed].sort(
    (one, other) =>
      compare(one.shipBy, other.shipBy) || compare(one.reference, other.reference) || one.id - other.id,
  );
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}

async function readOpenRuns(db: Database): Promise<readonly OpenRun[]> {
  const rows = await db
    .select({
      id: runs.id,
      blend: blendLook,
      sessionDate: runs.sessionDate,
      startsAt: runs.sessionStartsAt,
      endsAt: runs.sessionEndsAt,
      bowls: runs.bowls,
      units: sql<number>`(select coalesce(sum(${lots.plannedUnits}), 0)::integer from ${lots} where ${lots.runId} = ${runs.id})`,
      state: runs.state,
    })
    .from(runs)
    .innerJoin(blends, eq(blends.id, runs.blendId))
    .where(inArray(runs.state, ["planned", "mixing"]))
    // Light before dark within a session, as they are mixed.
    .orderBy(asc(runs.sessionStartsAt), asc(blends.shade), asc(runs.id));
  return rows.map(({ state, ...run }) => ({ ...run, state: state as OpenRun["state"] }));
}

async function readDryingLots(db: Database, timeZone: string): Promise<readonly DryingLot[]> {
  const dueAt = sql`case ${lots.state} when 'drying' then ${lots.unmoldDueAt} else ${lots.readyDueAt} end`;
  const rows = await db
    .select({
      id: lots.id,
      code: lots.code,
      product: products.name,
      blend: blendLook,
      units: lotBalances.units,
      state: lots.state,
      dueAt: dueAt.mapWith(lots.readyDueAt),
    })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(and(inArray(lots.state, ["drying", "resting"]), gt(lotBalances.units, 0)))
    .orderBy(asc(dueAt), asc(lots.id));
  return rows.map(({ state, ...lot }) => ({
    ...lot,
    state: state as DryingLot["state"],
    dueOn: dateOf(lot.dueAt, timeZone),
  }));
}
