import { and, asc, eq, gt, gte, lt, ne, notExists, type SQL, sql } from "drizzle-orm";
import { alias } from "drizzle-orm/pg-core";
import { DateTime } from "luxon";
import type { Transaction } from "../../db/connect.ts";
import { calendarExceptions, weekSessions, workshop } from "../../db/schema/workshop.ts";

/*
 * Two sessions of one date never overlap. Within the ordinary week and among the extra sessions of a date the
 * tables guard it themselves; that an extra session does not fall into an ordinary one of its date needs both
 * tables, so every change of the calendar waits for the one before it and looks here first.
 */

/** Minutes from local midnight; the end itself is free. */
interface Span {
  readonly startsMinute: number;
  readonly endsMinute: number;
}

/** A session that is in the way: of the ordinary week (no date) or an extra one on its date. */
export interface Overlap extends Span {
  readonly reason: "overlaps";
  readonly weekday: number;
  readonly onDate: string | null;
}

/** The day has as many sessions of its kind, ordinary or extra, as it may have. */
export interface FullDay {
  readonly reason: "full";
  readonly most: number;
}

/**
 * Most ordinary sessions of a weekday, and most extra ones of a date: with the longest horizon of 120 days a case
 * then stays within the 2 500 sessions the planner takes.
 */
const MOST_SESSIONS_A_DAY = 10;

/** Refuses one session more than a day may have. */
export async function fullDay(
  transaction: Transaction,
  day: { readonly weekday: number } | { readonly onDate: string },
): Promise<FullDay | null> {
  const there =
    "weekday" in day
      ? await transaction.$count(weekSessions, eq(weekSessions.weekday, day.weekday))
      : await transaction.$count(
          calendarExceptions,
          and(eq(calendarExceptions.kind, "extra"), eq(calendarExceptions.onDate, day.onDate)),
        );
  return there < MOST_SESSIONS_A_DAY ? null : { reason: "full", most: MOST_SESSIONS_A_DAY };
}

/** Holds the calendar until the transaction ends, and says which date it is in the workshop. */
export async function holdCalendar(transaction: Transaction, at: Date): Promise<string> {
  const [row] = await transaction.select({ timeZone: workshop.timeZone }).from(workshop).for("update");
  if (!row) throw new Error("There is no workshop whose calendar could be changed");
  const today = DateTime.fromJSDate(at, { zone: row.timeZone }).toISODate();
  if (today === null) throw new Error(`The date in ${row.timeZone} could not be told`);
  return today;
}

/** ISO 8601: 1 Monday .. 7 Sunday. */
export function weekdayOf(isoDate: string): number {
  return DateTime.fromISO(isoDate, { zone: "UTC" }).weekday;
}

/** The session of the ordinary week that a stretch of a weekday would overlap. */
export async function overlapInWeek(
  transaction: Transaction,
  weekday: number,
  span: Span,
  options: { readonly except?: number } = {},
): Promise<Overlap | null> {
  const [row] = await transaction
    .select()
    .from(weekSessions)
    .where(
      and(
        eq(weekSessions.weekday, weekday),
        lt(weekSessions.startsMinute, span.endsMinute),
        gt(weekSessions.endsMinute, span.startsMinute),
        options.except === undefined ? undefined : ne(weekSessions.id, options.except),
      ),
    )
    .orderBy(asc(weekSessions.startsMinute))
    .limit(1);
  if (!row) return null;
  const { startsMinute, endsMinute } = row;
  return { reason: "overlaps", weekday, onDate: null, startsMinute, endsMinute };
}

/** The extra session of one date that a stretch would overlap. */
export function overlapOnDate(transaction: Transaction, onDate: string, span: Span): Promise<Overlap | null> {
  return firstExtra(transaction, span, eq(calendarExceptions.onDate, onDate));
}

/**
 * The first extra session from `today` on that a new ordinary session of a weekday would overlap. Dates that are
 * days off do not count: the ordinary week does not happen on them.
 */
export function overlapOnComingDates(
  transaction: Transaction,
  weekday: number,
  span: Span,
  today: string,
): Promise<Overlap | null> {
  const dayOff = alias(calendarExceptions, "day_off");
  const sameDateOff = transaction
    .select({ one: sql`1` })
    .from(dayOff)
    .where(and(eq(dayOff.kind, "day-off"), eq(dayOff.onDate, calendarExceptions.onDate)));
  return firstExtra(
    transaction,
    span,
    and(
      sql`extract(isodow from ${calendarExceptions.onDate}) = ${weekday}`,
      gte(calendarExceptions.onDate, today),
      notExists(sameDateOff),
    ),
  );
}

async function firstExtra(
  transaction: Transaction,
  span: Span,
  when: SQL | undefined,
): Promise<Overlap | null> {
  const [row] = await transaction
    .select()
    .from(calendarExceptions)
    .where(
      and(
        eq(calendarExceptions.kind, "extra"),
        when,
        lt(calendarExceptions.startsMinute, span.endsMinute),
        gt(calendarExceptions.endsMinute, span.startsMinute),
      ),
    )
    .orderBy(asc(calendarExceptions.onDate), asc(calendarExceptions.startsMinute))
    .limit(1);
  if (!row || row.startsMinute === null || row.endsMinute === null) return null;
  const { onDate, startsMinute, endsMinute } = row;
  return { reason: "overlaps", weekday: weekdayOf(onDate), onDate, startsMinute, endsMinute };
}
