import type { DateFate, StandingDate } from "../../server/standing/standingDates.ts";
import type { WeeklyPattern } from "../../server/standing/weeklyRule.ts";
import { dayWords, shortDayWords, weekdayWords } from "../format/dates.ts";
import { spelled, spelledCount } from "../format/quantities.ts";
import { listed, sentence } from "../format/sentence.ts";

/** "every Tuesday and Friday", "every other week on Tuesday", "every three weeks on Monday". */
export function patternWords({ everyWeeks, weekdays }: WeeklyPattern): string {
  const days = listed(weekdays.map(weekdayWords));
  if (everyWeeks === 1) return `every ${days}`;
  return everyWeeks === 2
    ? `every other week on ${days}`
    : `every ${spelledCount(everyWeeks)} weeks on ${days}`;
}

/** What one standing order says of itself in the list and above its page. */
export interface StandingSummary {
  readonly id: number;
  readonly customer: string;
  readonly customerRetired: boolean;
  readonly stopped: boolean;
  readonly pattern: WeeklyPattern;
  /** Pieces at each date of what is still made. */
  readonly units: number;
  /** From today on, soonest first. */
  readonly dates: readonly StandingDate[];
}

/** The next date that comes up, or whose draft is made already; undefined when there is none in sight. */
function nextComing({ dates }: Pick<StandingSummary, "dates">): string | undefined {
  return dates.find(({ fate }) => fate.is === "ahead" || fate.is === "drafted")?.date;
}

/** "Two standing orders; next is The Lamplit Otter, for Tuesday 9 March." */
export function standingHeadline(orders: readonly StandingSummary[]): string {
  if (orders.length === 0) return "No standing orders yet.";
  const going = orders.filter(({ stopped }) => !stopped);
  const count = `${spelled(going.length, "standing order")} ${going.length === 1 ? "goes" : "go"} on`;
  const [next] = going
    .flatMap((order) => {
      const date = nextComing(order);
      return date === undefined ? [] : [{ customer: order.customer, date }];
    })
    .sort((one, other) => (one.date < other.date ? -1 : one.date > other.date ? 1 : 0));
  return sentence(next ? `${count}; next is ${next.customer}, for ${dayWords(next.date)}` : count);
}

/** "The Lamplit Otter wants 60 pieces every Tuesday; next on Tuesday 9 March." */
export function stateWords(order: StandingSummary): string {
  if (order.customerRetired) return "its shop no longer orders";
  if (order.stopped) return "stopped";
  const next = nextComing(order);
  if (next !== undefined) return `next for ${dayWords(next)}`;
  return order.dates.some(({ fate }) => fate.is === "paused") ? "paused" : "no date left";
}

/** What becomes of one date, in words: "its draft is made on Tue 23 Feb". */
export function fateWords(fate: DateFate, today: string): string {
  switch (fate.is) {
    case "drafted":
      return "its draft is made";
    case "left-out":
      return "left out";
    case "paused":
      return "paused";
    case "ahead":
      return fate.draftOn <= today
        ? "its draft comes now"
        : `its draft comes on ${shortDayWords(fate.draftOn)}`;
  }
}

/** "Fri 5 Mar to Fri 12 Mar", "from Fri 5 Mar on". */
export function pauseWords({
  firstDate,
  lastDate,
}: {
  readonly firstDate: string;
  readonly lastDate: string | null;
}): string {
  return lastDate === null
    ? `from ${shortDayWords(firstDate)} on`
    : `${shortDayWords(firstDate)} to ${shortDayWords(lastDate)}`;
}
