import type { MinorUnits } from "../money/minorUnits.ts";
import { type LineAmounts, type OrderTotals, orderTotals, type Rounding } from "../money/orderTotals.ts";

/** So many pieces of a product, at a price that was agreed or (null) at the one in force. */
export interface AskedLine {
  readonly productId: number;
  readonly units: number;
  readonly unitPriceMinor: MinorUnits | null;
  /** 0 to 10 000. */
  readonly discountBasisPoints: number;
}

/** Where a line's price comes from: typed in for this order, the customer's own, the list, or there is none. */
type PriceSource = "agreed" | "own" | "list" | "none";

export interface LineWithPrice extends AskedLine {
  readonly from: PriceSource;
  readonly taxPpm: number;
}

/** A line with its money; `amounts` is null where it has no price. */
export interface LineMoney extends LineWithPrice {
  readonly amounts: LineAmounts | null;
}

interface Unreckoned {
  readonly currency: string;
  readonly rounding: Rounding;
  readonly pricesIncludeTax: boolean;
  /** Whether the prices were fixed at confirmation, or are those of today. */
  readonly fixed: boolean;
  readonly priceListId: number | null;
  readonly discountBasisPoints: number;
  readonly shippingMinor: MinorUnits;
  readonly shippingTaxPpm: number;
}

/** The money of an order as pages, slips and files show it. */
export interface OrderMoney extends Unreckoned {
  readonly lines: readonly LineMoney[];
  /** Over the lines that have a price. */
  readonly totals: OrderTotals;
  /** Lines without a price: with any, the totals are not the whole. */
  readonly unpriced: number;
}

/** Reckons an order; lines without a price are counted and left out of the totals. */
export function priceOrder(order: Unreckoned & { readonly lines: readonly LineWithPrice[] }): OrderMoney {
  const { currency, rounding, pricesIncludeTax, fixed, priceListId, discountBasisPoints } = order;
  const { shippingMinor, shippingTaxPpm } = order;
  const priced = order.lines.flatMap((line) =>
    line.unitPriceMinor === null ? [] : [{ ...line, unitPriceMinor: line.unitPriceMinor }],
  );
  const head = { currency, rounding, pricesIncludeTax, fixed, priceListId, discountBasisPoints };
  const totals = orderTotals({ ...head, shippingMinor, shippingTaxPpm, lines: priced });
  const amounts = totals.lines.values();
  const lines = order.lines.map((line) => ({
    ...line,
    amounts: line.unitPriceMinor === null ? null : (amounts.next().value ?? null),
  }));
  const unpriced = lines.length - priced.length;
  return { ...head, shippingMinor, shippingTaxPpm, lines, totals, unpriced };
}
