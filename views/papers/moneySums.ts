import type { OrderMoney } from "../../server/prices/priceOrder.ts";
import { shareWords, taxRateWords } from "../format/money.ts";

interface Sum {
  readonly name: string;
  readonly minor: number;
  readonly strong?: boolean;
}

/**
 * What an order comes to, from the goods down to the total, and, where the tax is in the prices, what of it is tax. Parts
 * that are nothing are left out, but for goods and total.
 */
export function moneySums(money: OrderMoney): readonly Sum[] {
  const { totals, discountBasisPoints, shippingMinor, pricesIncludeTax } = money;
  const taxes = totals.byRate
    .filter(({ taxMinor }) => taxMinor !== 0)
    .map(({ ratePpm, taxMinor }) => ({
      name: `${pricesIncludeTax ? "In it tax" : "Tax"} of ${taxRateWords(ratePpm)}`,
      minor: taxMinor,
    }));
  const parts: readonly Sum[] = [
    { name: `Discount of ${shareWords(discountBasisPoints)}`, minor: -totals.discountMinor },
    { name: "Shipping", minor: shippingMinor },
  ];
  const total = totals.taxMinor > 0 && !pricesIncludeTax ? "Total with tax" : "Total";
  return [
    { name: "Goods", minor: totals.goodsMinor },
    ...parts.filter(({ minor }) => minor !== 0),
    ...(pricesIncludeTax ? [] : taxes),
    { name: total, minor: totals.grossMinor, strong: true },
    ...(pricesIncludeTax ? taxes : []),
  ];
}
