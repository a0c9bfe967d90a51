import { type MinorUnits, minorUnits, sumOf } from "../money/minorUnits.ts";
import type { Amounts, LineAmounts } from "../money/orderTotals.ts";
import { shareOfUnits } from "./shareOfUnits.ts";

/** Which pieces an invoice bills: those that have left and are not billed yet, or the whole order ahead. */
export type Basis = "left" | "whole";

/** A line of an order with its money, and how far it is sent and billed. */
export interface BillableLine {
  readonly orderLineId: number;
  readonly product: string;
  readonly orderedUnits: number;
  readonly sentUnits: number;
  /** Less what was credited to be billed anew. */
  readonly billedUnits: number;
  readonly unitPriceMinor: MinorUnits;
  readonly discountBasisPoints: number;
  readonly taxPpm: number;
  readonly amounts: LineAmounts;
}

export interface BillableOrder {
  readonly pricesIncludeTax: boolean;
  readonly lines: readonly BillableLine[];
  /** Null where there is none, or it is billed already. */
  readonly shipping: (Amounts & { readonly taxPpm: number }) | null;
}

/** A line as an invoice keeps it. */
export interface InvoiceLine extends LineAmounts {
  readonly kind: "goods" | "shipping";
  readonly orderLineId: number | null;
  readonly what: string;
  readonly units: number | null;
  readonly orderedUnits: number | null;
  readonly sentUnits: number | null;
  readonly unitPriceMinor: MinorUnits;
  readonly discountBasisPoints: number;
  readonly taxPpm: number;
}

/** Pieces of a line that would be billed. */
export function unitsToBill({ orderedUnits, sentUnits, billedUnits }: BillableLine, basis: Basis): number {
  return Math.max(0, (basis === "left" ? sentUnits : orderedUnits) - billedUnits);
}

/**
 * What an invoice of an order says: every line of it, those of which nothing is billed too, so that what is missing is
 * never hidden; the shipping with the first invoice. Nothing where not one piece is to be billed.
 */
export function invoiceContent(order: BillableOrder, basis: Basis): readonly InvoiceLine[] {
  if (order.lines.every((line) => unitsToBill(line, basis) === 0)) return [];
  const goods = order.lines.map((line): InvoiceLine => {
    const units = unitsToBill(line, basis);
    const { orderLineId, product: what, orderedUnits, sentUnits } = line;
    const { unitPriceMinor, discountBasisPoints, taxPpm } = line;
    const whole = { units: orderedUnits, amounts: line.amounts, pricesIncludeTax: order.pricesIncludeTax };
    // Where an order was cut below what is billed of it, nothing more is billed.
    const from = Math.min(line.billedUnits, orderedUnits);
    return {
      ...{ kind: "goods", orderLineId, what, units, orderedUnits, sentUnits },
      ...{ unitPriceMinor, discountBasisPoints, taxPpm },
      ...shareOfUnits(whole, from, from + units),
    };
  });
  return order.shipping === null ? goods : [...goods, shippingLine(order.shipping, order.pricesIncludeTax)];
}

function shippingLine(
  { taxPpm, ...amounts }: Amounts & { taxPpm: number },
  pricesIncludeTax: boolean,
): InvoiceLine {
  const stated = pricesIncludeTax ? amounts.grossMinor : amounts.netMinor;
  return {
    ...{
      kind: "shipping",
      orderLineId: null,
      what: "Shipping",
      units: null,
      orderedUnits: null,
      sentUnits: null,
    },
    ...{ unitPriceMinor: stated, discountBasisPoints: 0, taxPpm },
    ...{ ...amounts, amountMinor: stated, orderDiscountMinor: minorUnits(0) },
  };
}

/** The sums of a paper's lines. */
export interface LineSums extends Amounts {
  readonly goodsMinor: MinorUnits;
  readonly discountMinor: MinorUnits;
}

export function sumsOfLines(
  lines: readonly (LineAmounts & { readonly kind: InvoiceLine["kind"] })[],
): LineSums {
  const goods = lines.filter(({ kind }) => kind === "goods");
  return {
    goodsMinor: sumOf(goods.map((line) => line.amountMinor)),
    discountMinor: sumOf(lines.map((line) => line.orderDiscountMinor)),
    netMinor: sumOf(lines.map((line) => line.netMinor)),
    taxMinor: sumOf(lines.map((line) => line.taxMinor)),
    grossMinor: sumOf(lines.map((line) => line.grossMinor)),
  };
}
