/*
 * Whole numbers only: a share of an amount is a fraction until it is rounded, and rounding is done once, here.
 */

/** A whole is so many basis points, and so many parts per million. */
export const BASIS_POINTS = 10_000n;
export const MILLION = 1_000_000n;

/**
 * numerator / denominator to the nearest whole number, a half upwards, as shops and tax offices usually round
 * (common practice; ties also go up in the "round half up" of IEEE 754-2008, 4.3.1 for amounts that are not negative).
 *
 * @param numerator not negative
 * @param denominator positive
 */
export function roundHalfUp(numerator: bigint, denominator: bigint): bigint {
  if (numerator < 0n || denominator <= 0n)
    throw new RangeError("Only amounts that are not negative are shared");
  return (2n * numerator + denominator) / (2n * denominator);
}

/**
 * Divides `whole` among shares in proportion to `weights`, so that the parts add up to it (`settle`). Weights that are all
 * zero get nothing of a whole of zero.
 */
export function apportion(whole: bigint, weights: readonly bigint[]): readonly bigint[] {
  const total = weights.reduce((sum, weight) => sum + weight, 0n);
  if (total === 0n) {
    if (whole !== 0n) throw new RangeError("There is nothing to share it among");
    return weights.map(() => 0n);
  }
  return settle(
    whole,
    weights.map((weight) => whole * weight),
    total,
  );
}

/**
 * Makes whole numbers of `numerators` / `denominator` that add up to `whole`, which is the sum of them or next to it: each is
 * rounded down, and what is then left goes unit by unit to the largest remainders, the first of equal ones first (the
 * largest remainder method, also Hamilton's). So none is a whole unit off, and what is whole already stays as it is.
 */
export function settle(whole: bigint, numerators: readonly bigint[], denominator: bigint): readonly bigint[] {
  const parts = numerators.map((numerator) => numerator / denominator);
  const left = Number(whole - parts.reduce((sum, part) => sum + part, 0n));
  const remainder = (place: number) => (numerators[place] ?? 0n) % denominator;
  const byRemainder = [...numerators.keys()].sort((one, other) => {
    const difference = remainder(other) - remainder(one);
    return difference > 0n ? 1 : difference < 0n ? -1 : one - other;
  });
  const luckier = new Set(byRemainder.slice(0, left));
  return parts.map((part, place) => (luckier.has(place) ? part + 1n : part));
}
