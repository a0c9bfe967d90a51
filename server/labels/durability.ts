import { DateTime } from "luxon";
import type { Market } from "./markets.ts";

/*
 * How long a cosmetic keeps, as labels for the European Union say it: Regulation (EC) 1223/2009, Article 19(1)(c), from
 * memory, which the United Kingdom kept. Up to 30 months the label has a date of minimum durability, month and year, behind
 * the words "best used before the end of". Above 30 months it needs none; a period after opening is named instead, except
 * where durability after opening says nothing, as of a piece that is used up in one bath.
 */

/** Months of durability up to which labels have a date; exactly so many are not yet more. */
const DATED_UP_TO_MONTHS = 30;

/** What a label can say of how long its pieces keep. */
export type Durability =
  | { readonly kind: "unstated" }
  /** The day of making, from which the months count, is not known. */
  | { readonly kind: "no-day"; readonly months: number }
  | { readonly kind: "dated"; readonly months: number; readonly madeOn: string; readonly lastMonth: string }
  | { readonly kind: "long"; readonly months: number };

/** Null where no market asks for it. */
export function durabilityOf(
  {
    durabilityMonths: months,
    madeOn,
  }: { readonly durabilityMonths: number | null; readonly madeOn: string | null },
  market: Market,
): Durability | null {
  if (market !== "eu" && market !== "uk") return null;
  if (months === null) return { kind: "unstated" };
  if (months > DATED_UP_TO_MONTHS) return { kind: "long", months };
  if (madeOn === null) return { kind: "no-day", months };
  return { kind: "dated", months, madeOn, lastMonth: lastWholeMonth(madeOn, months) };
}

/**
 * The last month, such as "2028-03", that is over by the time what was made on a day has kept for so many months: a label
 * that names it promises no day more than was stated. Months end on the day of the same number, or on the last one of a
 * month that has no such day (Regulation (EEC, Euratom) 1182/71, Article 3(2)(c), from memory).
 */
function lastWholeMonth(madeOn: string, months: number): string {
  const keepsUntil = DateTime.fromISO(madeOn, { zone: "utc" }).plus({ months });
  const isOver = keepsUntil.day === keepsUntil.daysInMonth;
  return keepsUntil.minus({ months: isOver ? 0 : 1 }).toFormat("yyyy-MM");
}
