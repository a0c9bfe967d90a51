import { asc, eq, inArray, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { readBenchFacts } from "../bench/benchFacts.ts";
import { timetable } from "../timetable/timetable.ts";
import { mixingDates, turningDates } from "./dates.ts";
import type { CalendarContent, ShipByDate } from "./writeCalendar.ts";

/** All dates to come: mixing sessions and turnings by the timetable, and orders that have not all left. */
export async function readContent(db: Database, now: Date): Promise<CalendarContent> {
  const [shop] = await db
    .select({ name: workshop.name, timeZone: workshop.timeZone, openedAt: workshop.createdAt })
    .from(workshop);
  if (!shop) throw new Error("There is no workshop to read");
  const { runs, lots, sessions, timetable: facts } = await readBenchFacts(db);
  const laid = timetable(facts, now);
  const named = [...runs.flatMap((run) => run.lots), ...lots].map(
    ({ id, code, product }) => [id, { code, product }] as const,
  );
  return {
    workshop: shop,
    mixing: mixingDates(sessions, laid, runs),
    turnings: turningDates(laid, new Map(lots.map(({ id, turnings }) => [id, turnings]))),
    lots: new Map(named),
    shipBy: await listShipBy(db),
  };
}

async function listShipBy(db: Database): Promise<readonly ShipByDate[]> {
  return await db
    .select({
      orderId: orders.id,
      reference: orders.reference,
      customer: customers.name,
      shipBy: orders.shipBy,
      units: sql<number>`sum(${orderLines.units})::integer`,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .innerJoin(orderLines, eq(orderLines.orderId, orders.id))
    .where(inArray(orders.state, ["confirmed", "packing", "packed"]))
    .groupBy(orders.id, customers.id)
    .orderBy(asc(orders.shipBy), asc(orders.id));
}
