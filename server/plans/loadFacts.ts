import { and, asc, eq, gt, inArray, not, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";
import { runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { lineProgress, lotBalances } from "../../db/schema/sums.ts";
import { calendarExceptions, shapes, weekSessions, workshop } from "../../db/schema/workshop.ts";
import { isStopped } from "../holds/stops.ts";
import type { Calendar, CalendarException } from "./calendar.ts";
import type { LotFacts, OrderFacts, PlanFacts, RunFacts, UnitsOf } from "./planFacts.ts";

/**
 * Reads what a plan is made from. Read it in a repeatable-read transaction, so that shelf, lots and orders are of
 * one moment. Throws where no workshop is set up: no page leads here before that.
 */
export async function loadFacts(transaction: Transaction): Promise<PlanFacts> {
  const [shop] = await transaction.select().from(workshop);
  if (!shop) throw new Error("A plan needs a workshop that is set up");
  const stock = await loadStock(transaction);
  const underWay = await loadLots(transaction);
  const toPack = await loadOrders(transaction);
  const used = new Set([
    ...stock.map(({ product }) => product),
    ...underWay.map(({ product }) => product),
    ...toPack.flatMap(({ lines }) => lines.map(({ product }) => product)),
  ]);
  return {
    workshop: shop,
    calendar: await loadCalendar(transaction, shop),
    ...(await loadRange(transaction, used)),
    stock,
    lots: underWay,
    runsOnBench: await loadRunsOnBench(transaction),
    orders: toPack,
  };
}

async function loadCalendar(
  transaction: Transaction,
  { timeZone, horizonDays }: { readonly timeZone: string; readonly horizonDays: number },
): Promise<Calendar> {
  const week = await transaction
    .select()
    .from(weekSessions)
    .orderBy(asc(weekSessions.weekday), asc(weekSessions.startsMinute));
  const rows = await transaction.select().from(calendarExceptions).orderBy(asc(calendarExceptions.id));
  return { timeZone, horizonDays, week, exceptions: rows.map(exceptionOfRow) };
}

function exceptionOfRow(row: typeof calendarExceptions.$inferSelect): CalendarException {
  const { onDate, kind, startsMinute, endsMinute, handMinutes, mixing, dryingFactor } = row;
  if (kind === "damp" && dryingFactor !== null) return { kind, onDate, dryingFactor };
  if (kind !== "extra" || startsMinute === null || endsMinute === null) return { kind: "day-off", onDate };
  return { kind, onDate, startsMinute, endsMinute, handMinutes: handMinutes ?? 0, mixing: mixing ?? false };
}

/** What is made now, and what is no longer made but still on order, on the shelf or drying. */
async function loadRange(transaction: Transaction, used: ReadonlySet<string>) {
  const rows = await transaction
    .select({
      code: products.code,
      lossBasisPoints: products.lossBasisPoints,
      retiredAt: products.retiredAt,
      blend: blends,
      shape: shapes,
    })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .orderBy(asc(products.code));
  const range = rows.filter(({ code, retiredAt }) => retiredAt === null || used.has(code));
  const byCode = <Row extends { readonly code: string }>(list: readonly Row[]) => [
    ...new Map(list.map((row) => [row.code, row])).values(),
  ];
  return {
    shapes: byCode(range.map(({ shape }) => shape)),
    blends: byCode(range.map(({ blend }) => blend)),
    products: range.map(({ code, lossBasisPoints, blend, shape }) => ({
      code,
      lossBasisPoints,
      blend: blend.code,
      shape: shape.code,
    })),
  };
}

/** Pieces on the shelf that may be packed. What is packed has left its lot's sum already. */
async function loadStock(transaction: Transaction): Promise<readonly UnitsOf[]> {
  return await transaction
    .select({ product: products.code, units: sql<number>`sum(${lotBalances.units})::integer` })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .where(and(eq(lots.state, "ready"), gt(lotBalances.units, 0), not(isStopped(lots.id))))
    .groupBy(products.code)
    .orderBy(asc(products.code));
}

/** Lots in hand: being mixed (with what they are planned to give), in the mold, or resting. */
async function loadLots(transaction: Transaction): Promise<readonly LotFacts[]> {
  const rows = await transaction
    .select({
      lotId: lots.id,
      product: products.code,
      state: lots.state,
      units: sql<number>`case when ${lots.state} = 'mixing' then ${lots.plannedUnits} else ${lotBalances.units} end`,
      pressed: sql<number>`case when ${lots.state} = 'mixing' then ${lots.plannedUnits} else (
        select coalesce(sum(${moves.units}), 0)::integer from ${moves}
        where ${moves.lotId} = ${lots.id} and ${moves.kind} = 'made') end`,
      stopped: isStopped(lots.id),
      trays: lots.trays,
      dryingFactor: runs.dryingFactor,
      sessionEndsAt: runs.sessionEndsAt,
      unmoldDueAt: lots.unmoldDueAt,
      readyDueAt: lots.readyDueAt,
    })
    .from(lots)
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .leftJoin(runs, eq(runs.id, lots.runId))
    .where(inArray(lots.state, ["mixing", "drying", "resting"]))
    .orderBy(asc(lots.id));
  return rows.flatMap(({ state, dryingFactor, ...lot }) =>
    lot.units > 0 && (state === "mixing" || state === "drying" || state === "resting")
      ? [{ ...lot, state, dryingFactor: dryingFactor ?? 1 }]
      : [],
  );
}

async function loadRunsOnBench(transaction: Transaction): Promise<readonly RunFacts[]> {
  const rows = await transaction
    .select({ run: runs, product: products.code, units: lots.plannedUnits })
    .from(runs)
    .innerJoin(lots, and(eq(lots.runId, runs.id), eq(lots.state, "mixing")))
    .innerJoin(products, eq(products.id, lots.productId))
    .where(eq(runs.state, "mixing"))
    .orderBy(asc(runs.id), asc(lots.id));
  const byRun = new Map<number, { startedAt: Date; sessionEndsAt: Date; bowls: number; pieces: UnitsOf[] }>();
  for (const { run, product, units } of rows) {
    const known = byRun.get(run.id) ?? {
      startedAt: run.startedAt ?? run.sessionStartsAt,
      sessionEndsAt: run.sessionEndsAt,
      bowls: run.bowls,
      pieces: [],
    };
    known.pieces.push({ product, units: units ?? 0 });
    byRun.set(run.id, known);
  }
  return [...byRun.values()];
}

/** Confirmed orders and those half packed, with what is left to pack; one with nothing left is no question any more. */
async function loadOrders(transaction: Transaction): Promise<readonly OrderFacts[]> {
  const rows = await transaction
    .select({
      reference: orders.reference,
      terms: orders.terms,
      shipBy: orders.shipBy,
      weight: orders.weight,
      product: products.code,
      units: sql<number>`${lineProgress.orderedUnits} - ${lineProgress.packedUnits}`,
    })
    .from(orders)
    .innerJoin(lineProgress, eq(lineProgress.orderId, orders.id))
    .innerJoin(products, eq(products.id, lineProgress.productId))
    .where(
      and(
        inArray(orders.state, ["confirmed", "packing"]),
        gt(lineProgress.orderedUnits, lineProgress.packedUnits),
      ),
    )
    .orderBy(asc(orders.shipBy), asc(orders.reference), asc(products.code));
  const byReference = new Map<string, OrderFacts & { lines: UnitsOf[] }>();
  for (const { product, units, ...order } of rows) {
    const known = byReference.get(order.reference) ?? { ...order, lines: [] };
    known.lines.push({ product, units });
    byReference.set(order.reference, known);
  }
  return [...byReference.values()];
}
