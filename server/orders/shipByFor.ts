import { eq } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { calendarExceptions, weekSessions } from "../../db/schema/workshop.ts";
import { dayBefore } from "../../views/format/dates.ts";
import { weekdayOf } from "../workshop/calendarClashes.ts";

/** Further back than this nobody looks for a working day: the workshop is closed, or has no sessions yet. */
const MOST_DAYS_BACK = 366;

/**
 * The last date on which an order may leave and still be there when it is needed: a working day, with the working days
 * it is under way between. Where the workshop works Monday to Friday and a parcel takes two days, what is needed on a
 * Wednesday leaves on Monday, on a Monday on Thursday, on a Sunday on Wednesday.
 *
 * @param neededBy ISO 8601
 * @param worksOn whether a date is a working day; others do not count as under way.
 * @returns null when there is no such day within a year.
 */
export function shipByFor(
  neededBy: string,
  transitDays: number,
  worksOn: (date: string) => boolean,
): string | null {
  let date = neededBy;
  let underWay = transitDays;
  for (let back = 0; back <= MOST_DAYS_BACK; back += 1, date = dayBefore(date)) {
    if (!worksOn(date)) continue;
    if (underWay === 0) return date;
    underWay -= 1;
  }
  return null;
}

/** The ship-by date of what a customer needs by a date, over the workshop's calendar; null as for `shipByFor`. */
export async function readShipBy(
  db: Database | Transaction,
  customerId: number,
  neededBy: string,
): Promise<string | null> {
  const [customer] = await db
    .select({ transitDays: customers.transitDays })
    .from(customers)
    .where(eq(customers.id, customerId));
  return customer ? shipByFor(neededBy, customer.transitDays, await readWorkingDays(db)) : null;
}

/** Which dates are working days: those of the ordinary week that are not off, and those with an extra session. */
export async function readWorkingDays(db: Database | Transaction): Promise<(date: string) => boolean> {
  const week = await db.selectDistinct({ weekday: weekSessions.weekday }).from(weekSessions);
  const exceptions = await db
    .select({ onDate: calendarExceptions.onDate, kind: calendarExceptions.kind })
    .from(calendarExceptions);
  const weekdays = new Set(week.map(({ weekday }) => weekday));
  const datesOf = (kind: "day-off" | "extra") =>
    new Set(exceptions.filter((exception) => exception.kind === kind).map(({ onDate }) => onDate));
  const off = datesOf("day-off");
  const extra = datesOf("extra");
  return (date) => extra.has(date) || (weekdays.has(weekdayOf(date)) && !off.has(date));
}
