import type { LineAmounts } from "../money/orderTotals.ts";
import { shareOfUnits } from "./shareOfUnits.ts";

/** A line of an invoice, and what is credited of it so far. */
export interface CreditableLine {
  readonly lineId: number;
  readonly kind: "goods" | "shipping";
  /** Null for the shipping, which is credited whole or not at all. */
  readonly units: number | null;
  readonly amounts: LineAmounts;
  readonly creditedUnits: number;
  readonly shippingCredited: boolean;
}

/** Most pieces that can still be credited of a line; 1 stands for the shipping. */
export function unitsToCredit({ units, creditedUnits, shippingCredited }: CreditableLine): number {
  return units === null ? (shippingCredited ? 0 : 1) : units - creditedUnits;
}

/**
 * The money of a credit: of each line asked for, its pieces after those credited before, so that all credits of a line
 * together never come to more than was billed, and to exactly that once all its pieces are credited.
 */
export function creditAmounts(line: CreditableLine, units: number, pricesIncludeTax: boolean): LineAmounts {
  if (line.units === null) return line.amounts;
  const whole = { units: line.units, amounts: line.amounts, pricesIncludeTax };
  return shareOfUnits(whole, line.creditedUnits, line.creditedUnits + units);
}
