import { onceFor } from "../../server/basics/onceFor.ts";

/*
 * Where dates and times become words. A date is an ISO 8601 calendar date of the workshop; an instant is shown
 * on the workshop's own clock. A formatter costs far more to make than to use: each is made once.
 */

const day = { day: "numeric", timeZone: "UTC" } as const;
const longDay = new Intl.DateTimeFormat("en-GB", { ...day, weekday: "long", month: "long" });
const longDayAndYear = new Intl.DateTimeFormat("en-GB", {
  ...day,
  weekday: "long",
  month: "long",
  year: "numeric",
});
const shortDay = new Intl.DateTimeFormat("en-GB", { ...day, weekday: "short", month: "short" });
const monthAndYear = new Intl.DateTimeFormat("en-GB", { month: "long", year: "numeric", timeZone: "UTC" });
// Sweden writes dates as ISO 8601 does.
const dateIn = onceFor((timeZone) => new Intl.DateTimeFormat("sv-SE", { dateStyle: "short", timeZone }));
const clockIn = onceFor(
  (timeZone) =>
    new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", hourCycle: "h23", timeZone }),
);

/** "Friday 5 March", with the year only where `year` asks for it. */
export function dayWords(isoDate: string, options: { readonly year?: boolean } = {}): string {
  return (options.year ? longDayAndYear : longDay).format(noonOf(isoDate)).replace(",", "");
}

/** "March 2027", for "2027-03". */
export function monthWords(isoMonth: string): string {
  return monthAndYear.format(noonOf(`${isoMonth}-01`));
}

/** So many months, such as "2027-03", the newest first, that of the date included. */
export function monthsBefore(isoDate: string, count: number): readonly string[] {
  const last = Number(isoDate.slice(0, 4)) * 12 + Number(isoDate.slice(5, 7)) - 1;
  return Array.from({ length: count }, (_, back) => {
    const month = last - back;
    return `${Math.floor(month / 12)}-${String((month % 12) + 1).padStart(2, "0")}`;
  });
}

/** "Fri 5 Mar". */
export function shortDayWords(isoDate: string): string {
  return shortDay.format(noonOf(isoDate)).replace(",", "");
}

/** The workshop's calendar date of an instant, as ISO 8601. */
export function dateOf(instant: Date, timeZone: string): string {
  return dateIn(timeZone).format(instant);
}

/** "14:30" on the workshop's clock. */
export function clockWords(instant: Date, timeZone: string): string {
  return clockIn(timeZone).format(instant);
}

/** "Fri 5 Mar 14:30" on the workshop's clock. */
export function momentWords(instant: Date, timeZone: string): string {
  return `${shortDayWords(dateOf(instant, timeZone))} ${clockWords(instant, timeZone)}`;
}

/** "today at 14:30", or "on Friday 5 March at 14:30": an instant as a sentence says it at the moment `now`. */
export function whenWords(instant: Date, now: Date, timeZone: string): string {
  const day = dateOf(instant, timeZone);
  const named = day === dateOf(now, timeZone) ? "today" : `on ${dayWords(day)}`;
  return `${named} at ${clockWords(instant, timeZone)}`;
}

/** "09:30" for 570 minutes from midnight. */
export function minuteOfDayWords(minuteOfDay: number): string {
  const two = (count: number) => String(count).padStart(2, "0");
  return `${two(Math.floor(minuteOfDay / 60))}:${two(minuteOfDay % 60)}`;
}

/** "Monday" for 1 .. "Sunday" for 7 (ISO 8601). */
export function weekdayWords(isoWeekday: number): string {
  return ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"][isoWeekday - 1] ?? "";
}

/** Whole calendar days from one date to another; negative when the second comes first. */
export function daysBetween(fromIsoDate: string, toIsoDate: string): number {
  return Math.round((noonOf(toIsoDate).getTime() - noonOf(fromIsoDate).getTime()) / 86_400_000);
}

/** The calendar date after another. */
export function dayAfter(isoDate: string): string {
  return dateAway(isoDate, 1);
}

/** The calendar date before another. */
export function dayBefore(isoDate: string): string {
  return dateAway(isoDate, -1);
}

/** The calendar date so many days after another, or before it where the number is negative. */
export function dateAway(isoDate: string, days: number): string {
  return new Date(noonOf(isoDate).getTime() + days * 86_400_000).toISOString().slice(0, 10);
}

function noonOf(isoDate: string): Date {
  return new Date(`${isoDate}T12:00:00Z`);
}
