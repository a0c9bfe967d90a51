import { and, asc, eq, gt, inArray, isNull, sql } from "drizzle-orm";
import { z } from "zod";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { lots } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";
import { plans, runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { lineProgress, lotBalances } from "../../db/schema/sums.ts";
import { weekSessions } from "../../db/schema/workshop.ts";
import { dateOf, dayAfter } from "../../views/format/dates.ts";
import type { DryingLot, OpenOrder, OpenRun, PlannedOutcome, WeekFacts } from "./weekFacts.ts";

/** What the week's news are made from, as it stands at `now` on the workshop's clock. */
export async function readWeek(db: Database, now: Date, timeZone: string): Promise<WeekFacts> {
  const today = dateOf(now, timeZone);
  return {
    now,
    today,
    tomorrow: dayAfter(today),
    ...(await readBeginnings(db)),
    outcomes: await readOutcomes(db),
    orders: await readOpenOrders(db),
    runs: await readOpenRuns(db),
    lots: await readDryingLots(db, timeZone),
    free: await readFreePieces(db),
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

const outcomesOfAnswer = z.array(
  z.object({
    id: z.string(),
    readyOn: z.string().nullable(),
    daysLate: z.number(),
    unitsShort: z.number(),
  }),
);

async function readOutcomes(db: Database): Promise<readonly PlannedOutcome[] | null> {
  const [accepted] = await db
    .select({ outcomes: sql<unknown>`${plans.answer} -> 'orders'` })
    .from(plans)
    .where(eq(plans.state, "accepted"));
  if (!accepted) return null;
  return outcomesOfAnswer
    .parse(accepted.outcomes)
    .map(({ id, ...outcome }) => ({ reference: id, ...outcome }));
}

/** One row a line, folded into orders; an order that is packed whole keeps its rows with nothing left to pack. */
async function readOpenOrders(db: Database): Promise<readonly OpenOrder[]> {
  const lines = await db
    .select({
      id: orders.id,
      reference: orders.reference,
      customer: customers.name,
      terms: orders.terms,
      shipBy: orders.shipBy,
      state: orders.state,
      productId: lineProgress.productId,
      units: sql<number>`${lineProgress.orderedUnits} - ${lineProgress.packedUnits}`,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .innerJoin(lineProgress, eq(lineProgress.orderId, orders.id))
    .where(inArray(orders.state, ["confirmed", "packing", "packed"]))
    .orderBy(asc(orders.shipBy), asc(orders.id), asc(lineProgress.orderLineId));
  const byId = new Map<number, OpenOrder & { toPack: OpenOrder["toPack"][number][] }>();
  for (const { productId, units, state, ...order } of lines) {
    const known = byId.get(order.id) ?? { ...order, state: state as OpenOrder["state"], toPack: [] };
    byId.set(order.id, known);
    if (units > 0) known.toPack.push({ productId, units });
  }
  return [...byId.values()];
}

const look = { name: blends.name, colour: blends.colour, pattern: blends.pattern };

async function readOpenRuns(db: Database): Promise<readonly OpenRun[]> {
  const rows = await db
    .select({
      id: runs.id,
      blend: look,
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
      blend: look,
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

async function readFreePieces(db: Database): Promise<ReadonlyMap<number, number>> {
  const rows = await db
    .select({ productId: lots.productId, units: sql<number>`sum(${lotBalances.units})::integer` })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .where(and(eq(lots.state, "ready"), gt(lotBalances.units, 0)))
    .groupBy(lots.productId)
    .orderBy(asc(lots.productId));
  return new Map(rows.map(({ productId, units }) => [productId, units]));
}
