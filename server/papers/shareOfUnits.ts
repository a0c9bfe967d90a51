import { roundHalfUp } from "../money/exactShares.ts";
import { minorUnits } from "../money/minorUnits.ts";
import type { LineAmounts } from "../money/orderTotals.ts";

interface Whole {
  /** Pieces of the whole line, at least 1. */
  readonly units: number;
  readonly amounts: LineAmounts;
  readonly pricesIncludeTax: boolean;
}

/**
 * The money of some pieces of a line: of those after the first `from`, up to `to`. Each sum of the line is shared by how
 * far one has come, rounded, less what was there before: whatever parts a line is billed in, they add up to it, to the
 * minor unit, and the whole line at once is the line itself. A part is at most one minor unit away from its own rounding.
 */
export function shareOfUnits(
  { units, amounts, pricesIncludeTax }: Whole,
  from: number,
  to: number,
): LineAmounts {
  if (from < 0 || from > to || to > units) throw new RangeError(`${from} to ${to} are no pieces of ${units}`);
  const share = (whole: number) => {
    const until = (pieces: number) => roundHalfUp(BigInt(whole) * BigInt(pieces), BigInt(units));
    return until(to) - until(from);
  };
  const amount = share(amounts.amountMinor);
  const stated = share(pricesIncludeTax ? amounts.grossMinor : amounts.netMinor);
  const tax = share(amounts.taxMinor);
  return {
    amountMinor: minorUnits(amount),
    orderDiscountMinor: minorUnits(amount - stated),
    netMinor: minorUnits(pricesIncludeTax ? stated - tax : stated),
    taxMinor: minorUnits(tax),
    grossMinor: minorUnits(pricesIncludeTax ? stated : stated + tax),
  };
}
