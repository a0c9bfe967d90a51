import { and, eq, lte, ne } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { calendarExceptions, weekSessions } from "../../db/schema/workshop.ts";
import { readWorkingDays, shipByFor } from "../orders/shipByFor.ts";
import { weekdayOf } from "../workshop/calendarClashes.ts";

interface MarketDay {
  readonly heldOn: string;
  readonly opensMinute: number;
  readonly loadingMinutes: number;
}

/**
 * The last date on which the crate can be packed: the market's own where a working session ends before loading begins,
 * else the last working day before it. Where the market opens at 09:00 and loading takes an hour, a session until 07:30
 * is early enough.
 *
 * @returns ISO 8601; null when there is no such day within a year.
 */
export async function crateShipBy(db: Database | Transaction, market: MarketDay): Promise<string | null> {
  const { heldOn } = market;
  const inTime = await sessionEndsBefore(db, heldOn, market.opensMinute - market.loadingMinutes);
  const worksOn = await readWorkingDays(db);
  return shipByFor(heldOn, 0, (date) => (date === heldOn ? inTime : worksOn(date)));
}

async function sessionEndsBefore(db: Database | Transaction, date: string, minute: number): Promise<boolean> {
  const exceptions = await db
    .select({ kind: calendarExceptions.kind, endsMinute: calendarExceptions.endsMinute })
    .from(calendarExceptions)
    .where(and(eq(calendarExceptions.onDate, date), ne(calendarExceptions.kind, "damp")));
  if (
    exceptions.some(({ kind, endsMinute }) => kind === "extra" && endsMinute !== null && endsMinute <= minute)
  )
    return true;
  if (exceptions.some(({ kind }) => kind === "day-off")) return false;
  const ordinary = and(eq(weekSessions.weekday, weekdayOf(date)), lte(weekSessions.endsMinute, minute));
  return (await db.$count(weekSessions, ordinary)) > 0;
}
