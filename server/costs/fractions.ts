/*
 * Exact parts of whole numbers: what a milligram of something costs is no whole amount of anything, and is not rounded
 * before it has been added up.
 */

export interface Fraction {
  readonly over: bigint;
  /** Positive. */
  readonly under: bigint;
}

export const NOTHING: Fraction = { over: 0n, under: 1n };

export function fraction(over: bigint | number, under: bigint | number): Fraction {
  const parts = { over: BigInt(over), under: BigInt(under) };
  if (parts.under <= 0n) throw new RangeError("A fraction is of a positive number");
  return lowest(parts);
}

export function plus(one: Fraction, other: Fraction): Fraction {
  return lowest({
    over: one.over * other.under + other.over * one.under,
    under: one.under * other.under,
  });
}

export function times(one: Fraction, other: Fraction): Fraction {
  return lowest({ over: one.over * other.over, under: one.under * other.under });
}

function lowest({ over, under }: Fraction): Fraction {
  let [large, small] = [over < 0n ? -over : over, under];
  while (small > 0n) [large, small] = [small, large % small];
  return large > 1n ? { over: over / large, under: under / large } : { over, under };
}
