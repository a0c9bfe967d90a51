import { dayWords, minuteOfDayWords, weekdayWords } from "../format/dates.ts";

/** A session that is in the way: of the ordinary week (no date), or an extra one on its date. */
interface Overlap {
  readonly weekday: number;
  readonly onDate: string | null;
  readonly startsMinute: number;
  readonly endsMinute: number;
}

/** "the ordinary session on Monday from 09:00 to 13:00". */
export function overlapWords({ weekday, onDate, startsMinute, endsMinute }: Overlap): string {
  const hours = `from ${minuteOfDayWords(startsMinute)} to ${minuteOfDayWords(endsMinute)}`;
  return onDate === null
    ? `the ordinary session on ${weekdayWords(weekday)} ${hours}`
    : `the extra session on ${dayWords(onDate)} ${hours}`;
}
