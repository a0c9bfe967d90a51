import type { HabitRule } from "../../server/markets/habitRule.ts";
import { daysBetween, dayWords, minuteOfDayWords, weekdayWords } from "../format/dates.ts";
import { minutesWords, pieces, spelled, wholeWords } from "../format/quantities.ts";

/** A market as lists show it. */
export interface ShownMarket {
  readonly id: number;
  readonly customer: string;
  readonly heldOn: string;
  readonly orderState:
    | "draft"
    | "confirmed"
    | "packing"
    | "packed"
    | "shipped"
    | "delivered"
    | "cancelled"
    | null;
  readonly reference: string | null;
  readonly listUnits: number;
  readonly countedAt: Date | null;
  readonly calledOffAt: Date | null;
  readonly takenUnits: number;
  readonly homeUnits: number;
  readonly givenAwayUnits: number;
  readonly soldOutProducts: number;
}

/** "09:00 to 14:00". */
export function hoursWords(hours: { readonly opensMinute: number; readonly closesMinute: number }): string {
  return `${minuteOfDayWords(hours.opensMinute)} to ${minuteOfDayWords(hours.closesMinute)}`;
}

/** "today", "tomorrow", "in 5 days", "3 days ago": a date as seen from today. */
export function farWords(today: string, date: string): string {
  const days = daysBetween(today, date);
  if (days === 0) return "today";
  if (days === 1) return "tomorrow";
  if (days === -1) return "yesterday";
  return days > 0 ? `in ${wholeWords(days)} days` : `${wholeWords(-days)} days ago`;
}

/** Where a market stands, in a few words. */
export function standingWords(market: ShownMarket, today: string): string {
  if (market.calledOffAt) return "called off";
  if (market.countedAt) return `sold ${wholeWords(soldOf(market))} of ${pieces(market.takenUnits)}`;
  const { orderState, reference } = market;
  if (orderState === "shipped" || orderState === "delivered")
    return market.heldOn <= today ? "to be counted" : `crate ${reference} has left`;
  if (market.heldOn < today && (orderState === null || orderState === "cancelled")) return "to be counted";
  if (orderState === null || orderState === "cancelled") return "no crate list yet";
  const list = `${reference}, ${pieces(market.listUnits)}`;
  switch (orderState) {
    case "draft":
      return `crate list ${list}, a draft`;
    case "confirmed":
      return `crate list ${list}`;
    case "packing":
      return `crate ${list}, being packed`;
    case "packed":
      return `crate ${list}, packed`;
  }
}

export function soldOf({ takenUnits, homeUnits, givenAwayUnits }: ShownMarket): number {
  return takenUnits - homeUnits - givenAwayUnits;
}

/** Whether what the market waits for next is somebody counting. */
export function waitsForCount(market: ShownMarket, today: string): boolean {
  return standingWords(market, today) === "to be counted";
}

/** The list's answer in one sentence: what is to be counted first, then the next market and how its crate stands. */
export function marketsHeadline(open: readonly ShownMarket[], today: string): string {
  const uncounted = open.filter((market) => waitsForCount(market, today));
  const [first] = uncounted;
  if (first && uncounted.length === 1)
    return `What came home from ${first.customer} on ${dayWords(first.heldOn)} is still to be counted.`;
  if (first) return `What came home from ${spelled(uncounted.length, "market")} is still to be counted.`;
  const next = open.find(({ heldOn }) => heldOn >= today);
  if (!next) return "No market is planned.";
  const when = `${next.customer} is the next market, ${farWords(today, next.heldOn)}`;
  return next.orderState === null || next.orderState === "cancelled"
    ? `${when}; its crate list is still to be written.`
    : `${when}, with ${pieces(next.listUnits)} on its crate list.`;
}

/** One market's answer in one sentence. */
export function marketHeadline(market: ShownMarket, today: string): string {
  const { customer, heldOn, calledOffAt, countedAt } = market;
  const day = dayWords(heldOn);
  if (calledOffAt) return `${customer} on ${day} is called off.`;
  if (countedAt) {
    const out =
      market.soldOutProducts === 0
        ? "nothing sold out"
        : `${spelled(market.soldOutProducts, "product")} sold out`;
    return `${customer} on ${day} sold ${wholeWords(soldOf(market))} of ${pieces(market.takenUnits)}; ${out}.`;
  }
  if (waitsForCount(market, today)) return `${customer} on ${day} is over: what came home?`;
  const far = heldOn === today ? "is today" : `is ${farWords(today, heldOn)}`;
  if (market.orderState === null || market.orderState === "cancelled")
    return `${customer} ${far}: how much to take?`;
  return `${customer} ${far}, with ${pieces(market.listUnits)} on its crate list.`;
}

/** "every Saturday", "every 2 weeks on Saturday", "on the first Saturday of every month". */
export function habitWords(rule: HabitRule): string {
  const weekday = weekdayWords(rule.isoWeekday);
  if (rule.repeats === "monthly") {
    const place = ["first", "second", "third", "fourth"][rule.week - 1] ?? "last";
    return `on the ${place} ${weekday} of every month`;
  }
  return rule.weeksApart === 1 ? `every ${weekday}` : `every ${rule.weeksApart} weeks on ${weekday}`;
}

export function loadingWords(minutes: number): string {
  return minutes === 0 ? "no time" : minutesWords(minutes);
}

/** "80 %": a part of a whole; nothing of nothing is nothing. */
export function shareOf(part: number, whole: number): string {
  return whole === 0 ? "" : `${Math.round((100 * part) / whole)}\u202f%`;
}

/** "10:40 and 11:15", with those nobody looked at counted: when a product was sold out. */
export function soldOutWords(minutes: readonly (number | null)[]): string {
  const times = minutes.filter((minute) => minute !== null).sort((one, other) => one - other);
  if (minutes.length === 0) return "";
  const once = minutes.length === 1 ? "once" : minutes.length === 2 ? "twice" : `${minutes.length} times`;
  const [first] = times;
  const last = times.at(-1);
  if (first === undefined || last === undefined) return once;
  const at =
    first === last ? minuteOfDayWords(first) : `${minuteOfDayWords(first)} to ${minuteOfDayWords(last)}`;
  return `${once}, at ${at}`;
}
