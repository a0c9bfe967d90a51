import { DateTime } from "luxon";

/** How a market comes again: every so many weeks, or each month on the same weekday of it, such as the first Saturday. */
type Repeats = "never" | "weekly" | "monthly";

const WEEKDAYS: readonly string[] = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"];

/** More weeks apart than this and one would rather say it market by market. */
export const MOST_WEEKS_APART = 26;

/**
 * The value of an RRULE (RFC 5545, 3.3.10) for a market that comes again on the weekday of its first date. A month's
 * fifth weekday counts as its last, as few months have five.
 *
 * @param startsOn ISO 8601
 */
export function habitRule(repeats: Exclude<Repeats, "never">, weeksApart: number, startsOn: string): string {
  const date = DateTime.fromISO(startsOn, { zone: "utc" });
  const weekday = WEEKDAYS[date.weekday - 1] ?? "MO";
  if (repeats === "weekly") return `FREQ=WEEKLY;INTERVAL=${weeksApart};BYDAY=${weekday}`;
  const week = Math.ceil(date.day / 7);
  return `FREQ=MONTHLY;BYDAY=${week === 5 ? -1 : week}${weekday}`;
}

/** A rule as `habitRule` writes it, taken apart again; `week` is 1 to 4, or -1 for the last. */
export type HabitRule =
  | { readonly repeats: "weekly"; readonly weeksApart: number; readonly isoWeekday: number }
  | { readonly repeats: "monthly"; readonly week: number; readonly isoWeekday: number };

/** Throws Error for a rule it never wrote. */
export function readHabitRule(rule: string): HabitRule {
  const weekly = /^FREQ=WEEKLY;INTERVAL=(\d+);BYDAY=(\w\w)$/.exec(rule);
  const monthly = /^FREQ=MONTHLY;BYDAY=(-?\d)(\w\w)$/.exec(rule);
  const [, number = "", weekday = ""] = weekly ?? monthly ?? [];
  const isoWeekday = WEEKDAYS.indexOf(weekday) + 1;
  if (isoWeekday === 0) throw new Error(`No market comes again by the rule ${rule}`);
  return weekly
    ? { repeats: "weekly", weeksApart: Number(number), isoWeekday }
    : { repeats: "monthly", week: Number(number), isoWeekday };
}
