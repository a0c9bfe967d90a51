/*
 * The sample workshop: an invented place with invented people, to try everything on. Data only; it is loaded through
 * the same commands the forms use.
 */

/** How the sample workshop works. Weights in grams, times in minutes; minutes at work are common practice, no source. */
export const sampleWorkshop = {
  name: "The Thursday Walrus",
  trays: 12,
  mixers: 1,
  bowlGrams: 2600,
  minBowlGrams: 900,
  bowlMinutes: 30,
  mixMinutes: 20,
  cleanMinutes: 12,
  firstTurnMinutes: 270,
  everyTurnMinutes: 180,
  horizonDays: 16,
} as const;

interface DaySession {
  /** ISO 8601: 1 Monday .. 7 Sunday. */
  readonly weekday: number;
  /** Minutes from midnight on the workshop's clock. */
  readonly startsMinute: number;
  readonly endsMinute: number;
  readonly handMinutes: number;
  readonly mixing: boolean;
}

const clock = (hour: number, minute = 0) => hour * 60 + minute;

/** Weekdays from nine to one and from two to half past five, and an hour on Saturday to fill the market crate. */
export const sampleSessions: readonly DaySession[] = [
  ...[1, 2, 3, 4, 5].flatMap((weekday) => [
    { weekday, startsMinute: clock(9), endsMinute: clock(13), handMinutes: 240, mixing: true },
    { weekday, startsMinute: clock(14), endsMinute: clock(17, 30), handMinutes: 180, mixing: true },
  ]),
  { weekday: 6, startsMinute: clock(6, 30), endsMinute: clock(7, 30), handMinutes: 60, mixing: false },
];
