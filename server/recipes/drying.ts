import { KILOGRAM } from "./perKilogram.ts";

/*
 * What is left of the mix once alcohol and water have gone. Counted exactly: in ten-thousandths of a milligram, as the
 * evaporating shares are basis points.
 */

/** A part of a recipe, and how much of it goes into the air. */
export interface DryingPart {
  readonly milligramsPerKilogram: number;
  /** Of the ingredient, in basis points: 10 000 for alcohol, which leaves nothing. */
  readonly evaporatesBasisPoints: number;
}

const BASIS_POINTS = 10_000n;

/** What a kilogram of mix weighs when it is dry, in ten-thousandths of a milligram. */
export function dryTenThousandths(parts: readonly DryingPart[]): bigint {
  return parts.reduce(
    (dry, { milligramsPerKilogram, evaporatesBasisPoints }) =>
      dry - BigInt(milligramsPerKilogram) * BigInt(evaporatesBasisPoints),
    BigInt(KILOGRAM) * BASIS_POINTS,
  );
}

/**
 * What so much mix weighs when it is dry, in milligrams rounded down: the net weight on a label may be less, never more
 * (NIST Handbook 130, uniform packaging and labeling regulation, on rounding).
 */
export function dryMilligrams(parts: readonly DryingPart[], mixMilligrams: number): number {
  const whole = BigInt(KILOGRAM) * BASIS_POINTS;
  return Number((BigInt(mixMilligrams) * dryTenThousandths(parts)) / whole);
}
