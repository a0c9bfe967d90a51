import type { NeedFor } from "./explosion.ts";
import { type SupplyBooks, withoutBuying } from "./netting.ts";

/** Where a supply runs out if nothing more is bought than what is on its way. */
export interface Shortage<What> {
  /** The date of the first need that is not met in full, and what it is for. */
  readonly on: string;
  readonly what: What;
  /** What is missing of everything that is needed in the end. */
  readonly missing: number;
}

/**
 * The first need that the lots do not meet, and how much is missing in all; null where they last. Needs of one date are
 * met in the order they are given in.
 *
 * @param needs of one supply
 */
export function firstShortage<What>(
  needs: readonly NeedFor<What>[],
  books: SupplyBooks,
  from: string,
): Shortage<What> | null {
  const dates = withoutBuying(needs, books, from);
  const short = dates.find(({ left, needed }) => left < 0 && needed > 0);
  if (!short) return null;
  let there = short.left + short.needed;
  const first = needs
    .filter(({ on }) => on === short.on || (short.on === from && on < from))
    .find(({ amount }) => {
      there -= amount;
      return there < 0;
    });
  if (!first) return null;
  return { on: short.on, what: first.what, missing: Math.max(...dates.map(({ left }) => -left)) };
}
