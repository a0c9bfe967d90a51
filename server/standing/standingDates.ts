import { dateAway } from "../../views/format/dates.ts";
import { datesOf, type Recurrence } from "../recurrence/datesOf.ts";

/** What decides which dates of a standing order come up. All dates are the workshop's own, ISO 8601. */
export interface StandingCalendar extends Recurrence {
  /** How many days before a date its draft is made. */
  readonly daysBefore: number;
  readonly stopped: boolean;
  /** Both ends included; without a last date until it is taken up again. */
  readonly pauses: readonly { readonly firstDate: string; readonly lastDate: string | null }[];
  /** Dates that became a draft already or are left out. */
  readonly seen: readonly SeenDate[];
}

export interface SeenDate {
  readonly onDate: string;
  /** The draft that was made; null: it is left out. */
  readonly orderId: number | null;
}

/** What becomes of one date. */
export type DateFate =
  | { readonly is: "drafted"; readonly orderId: number }
  | { readonly is: "left-out" }
  | { readonly is: "paused" }
  /** Its draft is made on that day; a day gone by means: as soon as somebody looks. */
  | { readonly is: "ahead"; readonly draftOn: string };

export interface StandingDate {
  readonly date: string;
  readonly fate: DateFate;
}

/** Longest lead of a draft, in days: no due date lies further ahead. */
const MOST_DUE = 121;

/** The next dates from today on, each with what becomes of it; none once it was stopped. */
export function nextDates(order: StandingCalendar, today: string, most: number): readonly StandingDate[] {
  if (order.stopped) return [];
  return datesOf(order, { from: today, most }).map((date) => ({ date, fate: fateOf(order, date) }));
}

/** The dates whose drafts are to be made now. A date that has gone by unseen is not made up for. */
export function dueDates(order: StandingCalendar, today: string): readonly string[] {
  if (order.stopped) return [];
  return datesOf(order, { from: today, until: dateAway(today, order.daysBefore), most: MOST_DUE }).filter(
    (date) => fateOf(order, date).is === "ahead",
  );
}

function fateOf(order: StandingCalendar, date: string): DateFate {
  const seen = order.seen.find(({ onDate }) => onDate === date);
  if (seen) return seen.orderId === null ? { is: "left-out" } : { is: "drafted", orderId: seen.orderId };
  if (order.pauses.some(({ firstDate, lastDate }) => firstDate <= date && date <= (lastDate ?? date)))
    return { is: "paused" };
  return { is: "ahead", draftOn: dateAway(date, -order.daysBefore) };
}
