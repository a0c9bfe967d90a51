import { apportion, roundHalfUp } from "../money/exactShares.ts";

/** A recipe weighed out for one bowl. */
export interface Scaled {
  /** What the parts add up to: the asked weight as the scale can show it. */
  readonly wholeMilligrams: number;
  /** Of each part, in the recipe's order; whole steps of the scale. */
  readonly partMilligrams: readonly number[];
}

/**
 * What to weigh of each part for so much mix on a scale that shows steps of `stepMilligrams`. The whole is rounded to
 * the nearest step, a half upwards, and its steps are shared by the largest remainders, so that the parts always add
 * up to it and none is a whole step off. A part may round to nothing: it wants a finer scale.
 *
 * @param milligramsPerKilogram of each part; adds up to a kilogram
 */
export function scaleTo(
  milligramsPerKilogram: readonly number[],
  mixMilligrams: number,
  stepMilligrams: number,
): Scaled {
  const step = BigInt(stepMilligrams);
  const steps = roundHalfUp(BigInt(mixMilligrams), step);
  const shared = apportion(
    steps,
    milligramsPerKilogram.map((part) => BigInt(part)),
  );
  return {
    wholeMilligrams: Number(steps * step),
    partMilligrams: shared.map((part) => Number(part * step)),
  };
}
