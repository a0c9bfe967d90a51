import { DateTime, FixedOffsetZone } from "luxon";
import { minutesBetween, nextWholeMinute } from "./calendar.ts";

/**
 * The clock a case runs on: local time on one UTC offset, carried through clock changes, so that the difference of two
 * times on it is always the time that really passes. A night that loses an hour has an hour less to dry: a session
 * at 09:00 stands at 08:00 here once clocks have gone forward.
 */
export interface CaseClock {
  /** "YYYY-MM-DDTHH:MM", rounded up to the whole minute: nothing is taken for dry too soon. */
  moment(instant: Date): string;
  /**
   * "HH:MM" counted from midnight of a date, up to "24:00"; null for an instant outside that date on this clock.
   */
  timeOn(isoDate: string, instant: Date): string | null;
}

/** The clock whose offset is the one in force at `first`, the start of the first session. */
export function caseClockFrom(first: Date, timeZone: string): CaseClock {
  const zone = FixedOffsetZone.instance(DateTime.fromJSDate(first, { zone: timeZone }).offset);
  return {
    moment: (instant) =>
      DateTime.fromJSDate(nextWholeMinute(instant), { zone }).toFormat("yyyy-MM-dd'T'HH:mm"),
    timeOn(isoDate, instant) {
      const midnight = DateTime.fromISO(isoDate, { zone }).toJSDate();
      const minute = minutesBetween(midnight, instant);
      return minute < 0 || minute > 1440 ? null : clockTime(minute);
    },
  };
}

function clockTime(minute: number): string {
  const two = (count: number) => String(count).padStart(2, "0");
  return `${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
}
