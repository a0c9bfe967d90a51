declare const unit: unique symbol;

/** Whole minor units of one currency: cents, pence, fils, yen. Always exact: never past what a number can count to. */
export type MinorUnits = number & { readonly [unit]: "minor units" };

/** Takes a whole number for minor units. Throws RangeError for a fraction or past the exact range. */
export function minorUnits(amount: number | bigint): MinorUnits {
  const counted = Number(amount);
  if (!Number.isSafeInteger(counted)) throw new RangeError(`${amount} is no exact amount of minor units`);
  return counted as MinorUnits;
}

/** The sum of amounts of one currency. Throws RangeError past the exact range. */
export function sumOf(amounts: Iterable<MinorUnits>): MinorUnits {
  let sum = 0n;
  for (const amount of amounts) sum += BigInt(amount);
  return minorUnits(sum);
}
