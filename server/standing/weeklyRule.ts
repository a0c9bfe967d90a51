/** The way in which a standing order comes again: on chosen weekdays of every so many weeks. */
export interface WeeklyPattern {
  /** 1: each week; 2: every other week. */
  readonly everyWeeks: number;
  /** 1 is Monday, 7 Sunday (ISO 8601), at least one, in order. */
  readonly weekdays: readonly number[];
}

/** The weekdays as RFC 5545 writes them, Monday first. */
const DAY_CODES: readonly string[] = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"];

/** The value of the RRULE (RFC 5545, 3.3.10). Weeks begin on Monday, as they do there where nothing is said. */
export function weeklyRule({ everyWeeks, weekdays }: WeeklyPattern): string {
  const interval = everyWeeks === 1 ? "" : `;INTERVAL=${everyWeeks}`;
  return `FREQ=WEEKLY${interval};BYDAY=${weekdays.map((weekday) => DAY_CODES[weekday - 1]).join(",")}`;
}

/** The pattern a rule of `weeklyRule` was made from. Throws Error for any other rule. */
export function weeklyPattern(rule: string): WeeklyPattern {
  const [, interval = "1", days = ""] =
    /^FREQ=WEEKLY(?:;INTERVAL=(\d{1,2}))?;BYDAY=([A-Z,]+)$/.exec(rule) ?? [];
  const weekdays = days.split(",").map((day) => DAY_CODES.indexOf(day) + 1);
  if (weekdays.includes(0)) throw new Error(`${rule} is not a rule of standing orders`);
  return { everyWeeks: Number(interval), weekdays };
}
