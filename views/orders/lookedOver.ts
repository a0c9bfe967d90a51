import type { LineMoney, OrderMoney } from "../../server/prices/priceOrder.ts";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { pieces, wholeWords } from "../format/quantities.ts";

/** What a form of an order comes to so far, and what to think of before it is sent. */
export interface LookedOver {
  /** Null until there is a customer and a line; each line with its place in the form, from 0. */
  readonly money: (Omit<OrderMoney, "lines"> & { readonly lines: readonly PlacedLine[] }) | null;
  /** The ship-by date where it is reckoned back from the needed-by date. */
  readonly reckoned: string | null;
  readonly warnings: readonly Warning[];
  /** Stands for these warnings; "" where there are none. */
  readonly mark: string;
}

type PlacedLine = LineMoney & { readonly place: number };

export type Warning =
  | {
      readonly kind: "cases";
      readonly place: number;
      readonly productId: number;
      readonly units: number;
      readonly caseUnits: number;
      /** The nearest right numbers. */
      readonly offers: readonly number[];
    }
  | { readonly kind: "least-units"; readonly units: number; readonly least: number }
  | {
      readonly kind: "least-value";
      readonly amount: number;
      readonly least: number;
      readonly currency: string;
    }
  | {
      readonly kind: "leaves-late";
      readonly neededBy: string;
      readonly shipBy: string;
      readonly reckoned: string;
    };

/** "36 a case: 24 is not a whole number of cases; 36 or 72." */
export function warningWords(warning: Warning): string {
  switch (warning.kind) {
    case "cases":
      return `${wholeWords(warning.caseUnits)} a case: ${wholeWords(warning.units)} is not a whole number of cases; ${warning.offers.map(wholeWords).join(" or ")}.`;
    case "least-units":
      return `This customer's least order is ${pieces(warning.least)}: ${pieces(warning.least - warning.units)} more are needed.`;
    case "least-value":
      return `This customer's least order is ${moneyWords(warning.least, warning.currency)}: ${moneyWords(warning.least - warning.amount, warning.currency)} more is needed.`;
    case "leaves-late":
      return `To be there on ${dayWords(warning.neededBy)} it has to leave by ${dayWords(warning.reckoned)}; ${shortDayWords(warning.shipBy)} is too late for that.`;
  }
}
