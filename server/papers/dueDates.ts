import { dateAway } from "../../views/format/dates.ts";
import { BASIS_POINTS, roundHalfUp } from "../money/exactShares.ts";
import { type MinorUnits, minorUnits } from "../money/minorUnits.ts";

interface Terms {
  /** Calendar days from the invoice's date to the last on which it is paid in time; 0: at once. */
  readonly netDays: number;
  /** Off for paying early, 0 to 10 000; 0: nothing was agreed. */
  readonly earlyDiscountBasisPoints: number;
  readonly earlyDiscountDays: number;
}

export interface DueDates {
  readonly dueOn: string;
  /** Null where nothing was agreed. */
  readonly early: {
    readonly basisPoints: number;
    readonly until: string;
    readonly discountMinor: MinorUnits;
  } | null;
}

/**
 * When an invoice is due, and what may be kept back until when: "2 % within 10 days, net 30" counts calendar days after
 * the invoice's date, which is not itself counted (common practice, no source), and takes the share of the whole, tax
 * included, a half rounded up.
 */
export function dueDates(issuedOn: string, terms: Terms, grossMinor: MinorUnits): DueDates {
  const { netDays, earlyDiscountBasisPoints: basisPoints, earlyDiscountDays } = terms;
  const discount = roundHalfUp(BigInt(grossMinor) * BigInt(basisPoints), BASIS_POINTS);
  return {
    dueOn: dateAway(issuedOn, netDays),
    early:
      basisPoints === 0
        ? null
        : { basisPoints, until: dateAway(issuedOn, earlyDiscountDays), discountMinor: minorUnits(discount) },
  };
}
