import { apportion, BASIS_POINTS, MILLION, roundHalfUp, settle } from "./exactShares.ts";
import { type MinorUnits, minorUnits, sumOf } from "./minorUnits.ts";

/** How the money of an order is rounded: each line for itself, or only the order's sums. */
export type Rounding = "line" | "order";

export interface PricedLine {
  /** Pieces, not negative. */
  readonly units: number;
  readonly unitPriceMinor: MinorUnits;
  /** Off the line: 0 to 10 000. */
  readonly discountBasisPoints: number;
  /** Parts per million: 200 000 is 20 %. */
  readonly taxPpm: number;
}

export interface PricedOrder {
  readonly lines: readonly PricedLine[];
  /** Off the sum of the lines, not off the shipping: 0 to 10 000. */
  readonly discountBasisPoints: number;
  readonly shippingMinor: MinorUnits;
  readonly shippingTaxPpm: number;
  /** Whether prices and shipping are stated with the tax in them. */
  readonly pricesIncludeTax: boolean;
  readonly rounding: Rounding;
}

/** What something comes to: net + tax = gross. */
export interface Amounts {
  readonly netMinor: MinorUnits;
  readonly taxMinor: MinorUnits;
  readonly grossMinor: MinorUnits;
}

/** A line's money. Net, tax and gross are after its share of the order's discount. */
export interface LineAmounts extends Amounts {
  /** Units times price less the line's discount, stated as the prices are: what stands at the end of the line. */
  readonly amountMinor: MinorUnits;
  /** Its share of the order's discount. */
  readonly orderDiscountMinor: MinorUnits;
}

interface RateAmounts extends Amounts {
  readonly ratePpm: number;
}

/** An order's money. Lines and shipping add up to every sum here, to the minor unit, however it is rounded. */
export interface OrderTotals extends Amounts {
  readonly lines: readonly LineAmounts[];
  readonly shipping: Amounts;
  /** The sum of the lines before the order's discount, stated as the prices are. */
  readonly goodsMinor: MinorUnits;
  readonly discountMinor: MinorUnits;
  /** Goods less discount, lines and shipping together, by tax rate, the highest first. */
  readonly byRate: readonly RateAmounts[];
}

/**
 * What an order comes to. Halves are rounded up. By line, each line's amount and tax are rounded; by order, only the
 * sum of the goods and the tax of each rate are, and the lines get parts that add up to them. The order's discount is
 * rounded once either way and shared among the lines in proportion.
 *
 * Throws RangeError past the exact range of numbers, which the limits of prices and pieces keep out of reach.
 */
export function orderTotals(order: PricedOrder): OrderTotals {
  const amounts = lineAmounts(order);
  const goods = sumOfAll(amounts);
  const discount = roundHalfUp(goods * BigInt(order.discountBasisPoints), BASIS_POINTS);
  const discounts = apportion(discount, amounts);
  const stated = amounts.map((amount, place) => amount - (discounts[place] ?? 0n));
  const taxed = [
    ...stated.map((amount, place) => ({ amount, ratePpm: order.lines[place]?.taxPpm ?? 0 })),
    { amount: BigInt(order.shippingMinor), ratePpm: order.shippingTaxPpm },
  ];
  const taxes = taxesOf(taxed, order);
  const parts = taxed.map(({ amount }, place) =>
    netTaxGross(amount, taxes[place] ?? 0n, order.pricesIncludeTax),
  );
  const shipping = parts.at(-1);
  if (!shipping) throw new Error("Shipping always has its amounts");
  return {
    lines: parts.slice(0, -1).map((part, place) => ({
      ...part,
      amountMinor: minorUnits(amounts[place] ?? 0n),
      orderDiscountMinor: minorUnits(discounts[place] ?? 0n),
    })),
    shipping,
    goodsMinor: minorUnits(goods),
    discountMinor: minorUnits(discount),
    byRate: byRate(taxed, parts),
    ...together(parts),
  };
}

/** Each line after its own discount; their sum is the goods. */
function lineAmounts({ lines, rounding }: PricedOrder): readonly bigint[] {
  const exact = lines.map(
    (line) =>
      BigInt(line.units) * BigInt(line.unitPriceMinor) * (BASIS_POINTS - BigInt(line.discountBasisPoints)),
  );
  if (rounding === "line") return exact.map((amount) => roundHalfUp(amount, BASIS_POINTS));
  return settle(roundHalfUp(sumOfAll(exact), BASIS_POINTS), exact, BASIS_POINTS);
}

interface Taxed {
  /** As stated: with the tax in it or without. */
  readonly amount: bigint;
  readonly ratePpm: number;
}

function taxesOf(taxed: readonly Taxed[], { rounding, pricesIncludeTax }: PricedOrder): readonly bigint[] {
  const under = (ratePpm: number) => (pricesIncludeTax ? MILLION + BigInt(ratePpm) : MILLION);
  const taxOf = (amount: bigint, ratePpm: number) => roundHalfUp(amount * BigInt(ratePpm), under(ratePpm));
  if (rounding === "line") return taxed.map(({ amount, ratePpm }) => taxOf(amount, ratePpm));
  const taxes = taxed.map(() => 0n);
  for (const ratePpm of new Set(taxed.map((one) => one.ratePpm))) {
    const places = [...taxed.keys()].filter((place) => taxed[place]?.ratePpm === ratePpm);
    const amounts = places.map((place) => taxed[place]?.amount ?? 0n);
    const exact = amounts.map((amount) => amount * BigInt(ratePpm));
    const parts = settle(taxOf(sumOfAll(amounts), ratePpm), exact, under(ratePpm));
    for (const [index, place] of places.entries()) taxes[place] = parts[index] ?? 0n;
  }
  return taxes;
}

function netTaxGross(stated: bigint, tax: bigint, includesTax: boolean): Amounts {
  return {
    netMinor: minorUnits(includesTax ? stated - tax : stated),
    taxMinor: minorUnits(tax),
    grossMinor: minorUnits(includesTax ? stated : stated + tax),
  };
}

function byRate(taxed: readonly Taxed[], parts: readonly Amounts[]): readonly RateAmounts[] {
  const rates = [...new Set(taxed.map((one) => one.ratePpm))].sort((one, other) => other - one);
  return rates
    .map((ratePpm) => ({
      ratePpm,
      ...together(parts.filter((_part, place) => taxed[place]?.ratePpm === ratePpm)),
    }))
    .filter(({ grossMinor }) => grossMinor > 0);
}

function together(parts: readonly Amounts[]): Amounts {
  return {
    netMinor: sumOf(parts.map((part) => part.netMinor)),
    taxMinor: sumOf(parts.map((part) => part.taxMinor)),
    grossMinor: sumOf(parts.map((part) => part.grossMinor)),
  };
}

function sumOfAll(amounts: readonly bigint[]): bigint {
  return amounts.reduce((sum, amount) => sum + amount, 0n);
}
