import type { SampleDay } from "../../db/demo/orders.ts";
import { sampleSessions, sampleWorkshop } from "../../db/demo/workshop.ts";
import { daysBetween } from "../../views/format/dates.ts";
import { comingSessions } from "../plans/calendar.ts";

/** A market nearer than this is supplied from stock or not at all, which shows nothing of planning. */
const MARKET_AT_LEAST_DAYS_AHEAD = 4;

/**
 * Turns the sample's moving days into dates: working day 0 is the first date, from `now` on, with a session that can
 * still be mixed in; the market is on the first Saturday that leaves time to make something for it.
 */
export function sampleDates(now: Date, timeZone: string): (day: SampleDay) => string {
  const coming = comingSessions(
    { timeZone, horizonDays: sampleWorkshop.horizonDays, week: sampleSessions, exceptions: [] },
    now,
  );
  const datesWhere = (mixing: boolean) => [
    ...new Set(coming.filter((session) => session.mixing === mixing).map((session) => session.date)),
  ];
  const workdays = datesWhere(true);
  const saturdays = datesWhere(false);
  const first = coming[0]?.date ?? "";
  return (day) => {
    const date =
      day === "market-saturday"
        ? saturdays.find((saturday) => daysBetween(first, saturday) >= MARKET_AT_LEAST_DAYS_AHEAD)
        : workdays[day.workday];
    if (date === undefined) throw new Error("The sample's horizon is too short for its orders");
    return date;
  };
}
