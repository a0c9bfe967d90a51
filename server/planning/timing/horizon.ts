import type { Drying, PlanCase, Shape } from "../case.ts";
import { dayNumber, minuteOfDay, minutesPerDay, momentMinutes, wholeMinutes } from "./clock.ts";

/** A session's place in time, in days and minutes since 1970. */
export interface SessionTime {
  readonly day: number;
  readonly start: number;
  readonly end: number;
  /** Whole minutes from start to end. */
  readonly length: number;
}

/**
 * When a piece leaves its mold and when it is packed, as session indices; null where no session is late enough.
 * It holds a mold in the sessions before `unmold` and tray space in the sessions before `pack`.
 */
export interface Milestones {
  readonly unmold: number | null;
  readonly pack: number | null;
}

export interface Horizon {
  readonly sessions: readonly SessionTime[];
  readonly firstDay: number;
  readonly lastDay: number;
  /** Days a unit counts late that is never served, for an order due on `shipByDay`: at least 7. */
  neverServedDays(shipByDay: number): number;
  /** Milestones of a piece of `shape` formed in session `formed`. */
  ofForming(shape: Shape, formed: number): Milestones;
  /** Milestones of pieces formed before the first session. */
  ofDrying(drying: Drying): Milestones;
}

/** Puts the sessions of a case, whose dates and times are known to be right, on one line of minutes. */
export function horizonOf(planCase: PlanCase): Horizon {
  const sessions = planCase.sessions.map((session) => {
    const day = dayOf(session.date);
    const start = day * minutesPerDay + known(minuteOfDay(session.start));
    const end = day * minutesPerDay + known(minuteOfDay(session.end));
    return { day, start, end, length: end - start };
  });
  const firstDay = sessions[0]!.day;
  const lastDay = sessions[sessions.length - 1]!.day;

  return {
    sessions,
    firstDay,
    lastDay,
    neverServedDays: (shipByDay) => Math.max(7, lastDay + 7 - shipByDay),
    ofForming(shape, formed) {
      const factor = planCase.sessions[formed]!.dryingFactor;
      const dryAt = sessions[formed]!.end + wholeMinutes(shape.moldHours, factor);
      const unmold = firstStartingAt(sessions, formed + 1, dryAt);
      if (unmold === null) return { unmold, pack: null };
      const restedAt = sessions[unmold]!.start + wholeMinutes(shape.restHours, factor);
      return { unmold, pack: firstStartingAt(sessions, unmold, restedAt) };
    },
    ofDrying(drying) {
      const unmold =
        drying.unmoldAt === null ? 0 : firstStartingAt(sessions, 0, known(momentMinutes(drying.unmoldAt)));
      if (unmold === null) return { unmold, pack: null };
      return { unmold, pack: firstStartingAt(sessions, unmold, known(momentMinutes(drying.packAt))) };
    },
  };
}

/** Day number of a date already known to be a date. */
export function dayOf(date: string): number {
  return known(dayNumber(date));
}

/** First session at or after index `from` that starts at `minute` or later; sessions stand in time order. */
function firstStartingAt(sessions: readonly SessionTime[], from: number, minute: number): number | null {
  let low = from;
  let high = sessions.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sessions[middle]!.start >= minute) high = middle;
    else low = middle + 1;
  }
  return low < sessions.length ? low : null;
}

function known(value: number | null): number {
  if (value === null) throw new Error("a case reached the planner without being parsed");
  return value;
}
