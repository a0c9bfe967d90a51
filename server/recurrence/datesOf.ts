import rrule from "rrule";

/** What comes again and again. Dates are ISO 8601 calendar dates of the workshop. */
export interface Recurrence {
  /** The value of an RRULE (RFC 5545, 3.3.10), such as "FREQ=WEEKLY;INTERVAL=2;BYDAY=SA". */
  readonly rule: string;
  /** The rule's DTSTART: no date comes before it, and weeks and months are counted from it. */
  readonly startsOn: string;
  /** The last date on which it may still come; null: it goes on. */
  readonly endsOn: string | null;
}

/** What else a date needs to be one of those asked for. */
interface Window {
  /** The first date that counts. */
  readonly from: string;
  /** How many are wanted at most. */
  readonly most: number;
  /** The last date that counts; left out: any. */
  readonly until?: string;
}

/**
 * The dates of a recurrence from a date on, in order. Days are counted as RFC 5545 counts dates without a time: no
 * clock change can move one. Throws Error where the rule is none.
 */
export function datesOf(recurrence: Recurrence, { from, most, until }: Window): readonly string[] {
  const last = [recurrence.endsOn, until].filter((date) => typeof date === "string").sort()[0] ?? LAST_DATE;
  if (most <= 0 || last < from) return [];
  const rule = new rrule.RRule({
    ...rrule.RRule.parseString(recurrence.rule),
    dtstart: midnightOf(recurrence.startsOn),
  });
  return rule
    .between(midnightOf(from), midnightOf(last), true, (_date, found) => found < most)
    .map((date) => date.toISOString().slice(0, 10));
}

/** As far as dates are taken anywhere. */
const LAST_DATE = "2199-12-31";

function midnightOf(isoDate: string): Date {
  return new Date(`${isoDate}T00:00:00Z`);
}
