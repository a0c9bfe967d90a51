import { DateTime } from "luxon";

/** One session of the ordinary week, as the workshop wrote it down: local clock times. */
export interface WeekSession {
  /** ISO 8601: 1 Monday .. 7 Sunday. */
  readonly weekday: number;
  /** Minutes from local midnight. */
  readonly startsMinute: number;
  readonly endsMinute: number;
  readonly handMinutes: number;
  readonly mixing: boolean;
}

/** What one date does differently. */
export type CalendarException =
  | { readonly kind: "day-off"; readonly onDate: string }
  | ({ readonly kind: "extra"; readonly onDate: string } & Omit<WeekSession, "weekday">)
  | { readonly kind: "damp"; readonly onDate: string; readonly dryingFactor: number };

export interface Calendar {
  /** IANA name. */
  readonly timeZone: string;
  readonly horizonDays: number;
  readonly week: readonly WeekSession[];
  readonly exceptions: readonly CalendarException[];
}

/** A session of one date, at its true instants. */
export interface ComingSession {
  /** The workshop's own date. */
  readonly date: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly handMinutes: number;
  readonly mixing: boolean;
  readonly dryingFactor: number;
}

/**
 * The sessions still to be worked from `now` on, in time order and never overlapping: today and the days after it,
 * `horizonDays` dates in all. A day off takes away the date's ordinary sessions; extra ones stay. The session under
 * way counts from the next whole minute, its hand minutes in proportion to what is left of it, rounded down.
 */
export function comingSessions(calendar: Calendar, now: Date): readonly ComingSession[] {
  const today = DateTime.fromJSDate(now, { zone: calendar.timeZone }).startOf("day");
  const dates = Array.from({ length: calendar.horizonDays }, (_, days) => today.plus({ days }));
  const sessions = dates.flatMap((date) => sessionsOf(date, calendar));
  return joined(sessions).flatMap((session) => whatIsLeft(session, now));
}

function sessionsOf(date: DateTime, { week, exceptions }: Calendar): readonly ComingSession[] {
  const isoDate = date.toISODate() ?? "";
  const here = exceptions.filter((exception) => exception.onDate === isoDate);
  const off = here.some(({ kind }) => kind === "day-off");
  const ordinary = off ? [] : week.filter(({ weekday }) => weekday === date.weekday);
  const extra = here.filter((exception) => exception.kind === "extra");
  const dryingFactor = here.find((exception) => exception.kind === "damp")?.dryingFactor ?? 1;
  return [...ordinary, ...extra].map((session) => {
    const startsAt = instantOf(date, session.startsMinute);
    const endsAt = instantOf(date, session.endsMinute);
    const worked = minutesBetween(startsAt, endsAt) / (session.endsMinute - session.startsMinute);
    return {
      date: isoDate,
      startsAt,
      endsAt,
      // A session that loses an hour to a clock change loses its share of the hands; one that wins an hour wins none.
      handMinutes: share(session.handMinutes, Math.min(1, worked)),
      mixing: session.mixing,
      dryingFactor,
    };
  });
}

/**
 * The instant of a local clock time. A time that a clock change leaves out is as much later as the clock jumps; of a
 * time that comes twice the first is meant.
 */
function instantOf(date: DateTime, minuteOfDay: number): Date {
  const local = date.set({ hour: Math.floor(minuteOfDay / 60), minute: minuteOfDay % 60 });
  const [first] = local.getPossibleOffsets().sort((one, other) => one.toMillis() - other.toMillis());
  return (first ?? local).toJSDate();
}

/** In time order; sessions that overlap (an extra one beside an ordinary one) become one with both their hands. */
function joined(sessions: readonly ComingSession[]): readonly ComingSession[] {
  const inOrder = sessions
    .filter((session) => session.startsAt < session.endsAt)
    .sort((one, other) => one.startsAt.getTime() - other.startsAt.getTime());
  const apart: ComingSession[] = [];
  for (const session of inOrder) {
    const before = apart.at(-1);
    if (before === undefined || before.endsAt <= session.startsAt) apart.push(session);
    else {
      apart[apart.length - 1] = {
        ...before,
        endsAt: new Date(Math.max(before.endsAt.getTime(), session.endsAt.getTime())),
        handMinutes: before.handMinutes + session.handMinutes,
        mixing: before.mixing || session.mixing,
      };
    }
  }
  return apart;
}

function whatIsLeft(session: ComingSession, now: Date): readonly ComingSession[] {
  if (now <= session.startsAt) return [session];
  const startsAt = nextWholeMinute(now);
  if (startsAt >= session.endsAt) return [];
  const left = minutesBetween(startsAt, session.endsAt) / minutesBetween(session.startsAt, session.endsAt);
  return [{ ...session, startsAt, handMinutes: share(session.handMinutes, left) }];
}

/** The instant itself where it is a whole minute, otherwise the next one. */
export function nextWholeMinute(instant: Date): Date {
  return new Date(Math.ceil(instant.getTime() / MINUTE_MS) * MINUTE_MS);
}

export function minutesBetween(from: Date, to: Date): number {
  return (to.getTime() - from.getTime()) / MINUTE_MS;
}

/** Whole calendar days from one ISO 8601 date to another. */
export function daysApart(from: string, to: string): number {
  return DateTime.fromISO(to, { zone: "utc" }).diff(DateTime.fromISO(from, { zone: "utc" }), "days").days;
}

function share(minutes: number, part: number): number {
  // A millionth is floating-point noise, not a minute.
  return Math.floor(minutes * part + 1e-6);
}

const MINUTE_MS = 60_000;
