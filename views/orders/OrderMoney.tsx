import type { OrderMoney } from "../../server/prices/priceOrder.ts";
import { moneyWords, shareWords, taxRateWords } from "../format/money.ts";
import { spelled } from "../format/quantities.ts";
import { capitalised } from "../format/sentence.ts";

/** What an order comes to, from the goods down to the total, as on a bill. */
export function MoneySums({ money }: { readonly money: OrderMoney }) {
  const { totals, currency, pricesIncludeTax, unpriced } = money;
  const rows = sumsOf(money);
  return (
    <>
      <table class="money-sums">
        <tbody>
          {rows.map(({ name, minor }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td class="number">{moneyWords(minor, currency)}</td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">{totals.taxMinor > 0 && !pricesIncludeTax ? "Total with tax" : "Total"}</th>
            <td class="number">{moneyWords(totals.grossMinor, currency)}</td>
          </tr>
        </tfoot>
      </table>
      {pricesIncludeTax && totals.taxMinor > 0 && <p class="aside">{includedWords(money)}</p>}
      {unpriced > 0 && (
        <p class="notice">
          {capitalised(spelled(unpriced, "line"))} {unpriced === 1 ? "has" : "have"} no price, so this is not
          the whole.
        </p>
      )}
    </>
  );
}

interface Sum {
  readonly name: string;
  readonly minor: number;
}

/** Parts that are nothing are left out, but for the goods. */
function sumsOf({
  totals,
  discountBasisPoints,
  shippingMinor,
  pricesIncludeTax,
}: OrderMoney): readonly Sum[] {
  const parts: readonly Sum[] = [
    { name: `Discount of ${shareWords(discountBasisPoints)}`, minor: -totals.discountMinor },
    { name: "Shipping", minor: shippingMinor },
    ...(pricesIncludeTax
      ? []
      : totals.byRate.map(({ ratePpm, taxMinor }) => ({
          name: `Tax of ${taxRateWords(ratePpm)}`,
          minor: taxMinor,
        }))),
  ];
  return [{ name: "Goods", minor: totals.goodsMinor }, ...parts.filter(({ minor }) => minor !== 0)];
}

/** "In it €4.17 tax at 20 %." */
function includedWords({ totals, currency }: OrderMoney): string {
  const taxes = totals.byRate
    .filter(({ taxMinor }) => taxMinor > 0)
    .map(({ ratePpm, taxMinor }) => `${moneyWords(taxMinor, currency)} tax at ${taxRateWords(ratePpm)}`);
  return `In it ${taxes.join(" and ")}; ${moneyWords(totals.netMinor, currency)} without.`;
}
