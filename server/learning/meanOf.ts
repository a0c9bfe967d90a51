import { studentQuantile } from "./studentT.ts";
import { effectiveSize, recencyWeights, sumOf } from "./weights.ts";
import type { Spread } from "./wilson.ts";

/** What a figure has come to on average, and what that rests on. */
export interface LearnedMean extends Spread {
  readonly mean: number;
  readonly batches: number;
}

/** One batch's figure, and how much it counts beside another of the same age: its pieces. */
export interface Measured {
  readonly value: number;
  readonly pieces: number;
}

/**
 * The average of what batches measured, in which larger and newer ones count more. Its spread is Student's (Student, The
 * probable error of a mean, Biometrika 6 (1908), 1-25), with as many degrees of freedom as the weights are worth; with
 * fewer than two batches there is none.
 *
 * @param batches the newest first
 * @returns null where there are fewer than two.
 */
export function meanOf(batches: readonly Measured[]): LearnedMean | null {
  const recency = recencyWeights(batches.length);
  const weights = batches.map(({ pieces }, place) => pieces * (recency[place] ?? 0));
  const size = effectiveSize(weights);
  if (batches.length < 2 || size <= 1) return null;
  const total = sumOf(weights, (weight) => weight);
  const mean = sumOf(batches, ({ value }, place) => value * (weights[place] ?? 0)) / total;
  const spread = sumOf(batches, ({ value }, place) => (weights[place] ?? 0) * (value - mean) ** 2) / total;
  // Unbiased for weights that say how much a batch counts, as n / (n - 1) is for equal ones.
  const half = studentQuantile(0.95, size - 1) * Math.sqrt(spread / (size - 1));
  return { mean, low: Math.max(0, mean - half), high: mean + half, batches: batches.length };
}
