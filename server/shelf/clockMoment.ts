import { DateTime } from "luxon";

/**
 * The instant at which the workshop's clock shows a date and a time of day. A time that a clock change leaps over is
 * taken as much later as the clock was put on; of one that comes twice the first is meant.
 */
export function clockMoment(isoDate: string, minuteOfDay: number, timeZone: string): Date {
  return DateTime.fromISO(isoDate, { zone: timeZone })
    .set({ hour: Math.floor(minuteOfDay / 60), minute: minuteOfDay % 60 })
    .toJSDate();
}
