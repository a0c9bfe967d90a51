import type { Showing } from "./demand.ts";

/*
 * What is true of every market. It is one stall on one date; its order is the crate list. Once everything that came
 * home has been counted it is history, from which the next crate is reckoned.
 */

/** Markets the numbers are learned from at most, the latest: tastes change, and a season is not longer. */
export const MOST_LEARNED_FROM = 12;

/** What became of one product. Sold = taken - home - given away. */
export interface ProductCount {
  readonly takenUnits: number;
  /** Came home and went back on the shelf. */
  readonly homeUnits: number;
  /** Samples, gifts, broken at the stall. */
  readonly givenAwayUnits: number;
  /** Minutes from local midnight at which the last one went; null: it did not sell out, or nobody looked. */
  readonly soldOutMinute: number | null;
}

export function soldUnits({ takenUnits, homeUnits, givenAwayUnits }: ProductCount): number {
  return takenUnits - homeUnits - givenAwayUnits;
}

/** Nothing of it came home: what was sold is then less than, or just, what was asked for. */
export function isSoldOut(count: ProductCount): boolean {
  return count.takenUnits > 0 && count.homeUnits === 0;
}

interface OpeningHours {
  /** Minutes from local midnight. */
  readonly opensMinute: number;
  readonly closesMinute: number;
}

/** What a count tells of the demand; null where it tells nothing, as nothing was there to be sold. */
export function showingOf(count: ProductCount, { opensMinute, closesMinute }: OpeningHours): Showing | null {
  const sold = soldUnits(count);
  if (count.takenUnits === 0) return null;
  if (!isSoldOut(count)) return { soldUnits: sold, soldOut: null };
  if (sold === 0) return null;
  const { soldOutMinute } = count;
  if (soldOutMinute === null) return { soldUnits: sold, soldOut: { share: null } };
  const share = (soldOutMinute - opensMinute) / (closesMinute - opensMinute);
  return { soldUnits: sold, soldOut: { share: Math.min(1, Math.max(0, share)) } };
}
