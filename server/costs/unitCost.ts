import { roundHalfUp } from "../money/exactShares.ts";
import { type Fraction, fraction } from "./fractions.ts";

/*
 * What a milligram or a piece of a supply costs, in minor units, by its ledger: what was paid last, or the moving
 * average of what is there.
 */

/** A move of a lot of the supply, oldest first. */
export interface CostedMove {
  /** Signed: what it adds. */
  readonly amount: number;
  /** Of a delivery: what all of it cost; null: not known. Undefined for every other move. */
  readonly paidMinor?: number | null;
}

/** By the newest delivery whose price is known; null: there is none. */
export function lastPaid(moves: readonly CostedMove[]): Fraction | null {
  const priced = moves.findLast(({ amount, paidMinor }) => paidMinor != null && amount > 0);
  return priced?.paidMinor == null ? null : fraction(priced.paidMinor, priced.amount);
}

/** The value of what is there is carried along to a millionth of a minor unit. */
const MILLIONTHS = 1_000_000n;

/**
 * The moving average after every move (perpetual weighted average, as inventory is usually valued): a delivery brings
 * what was paid for it, everything else leaves the average as it is. A delivery without a price, or what a count finds,
 * counts at the average of the time. When nothing is left the last average stands until something is paid again. Null:
 * no price is known. What is taken off is rounded to the nearest millionth of a minor unit, a half upwards.
 */
export function movingAverage(moves: readonly CostedMove[]): Fraction | null {
  let there = 0n;
  let value = 0n;
  let average: Fraction | null = null;
  for (const { amount, paidMinor } of moves) {
    const moved = BigInt(amount);
    if (paidMinor != null) {
      value += BigInt(paidMinor) * MILLIONTHS;
      there += moved;
    } else if (average !== null && moved > 0n) {
      value += roundHalfUp(moved * average.over * MILLIONTHS, average.under);
      there += moved;
    } else if (moved < 0n && there > 0n) {
      const taken = -moved < there ? -moved : there;
      value -= roundHalfUp(value * taken, there);
      there -= taken;
    }
    if (there > 0n) average = fraction(value, there * MILLIONTHS);
  }
  return average;
}
