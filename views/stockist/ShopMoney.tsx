import type { OrderMoney } from "../../server/prices/priceOrder.ts";
import { moneyWords, taxRateWords } from "../format/money.ts";

/** What an order comes to, from the goods to the last sum. */
export function ShopMoney({ money }: { readonly money: OrderMoney }) {
  const { currency, totals, shippingMinor, pricesIncludeTax } = money;
  const words = (minor: number) => moneyWords(minor, currency);
  const taxes = totals.byRate.filter(({ ratePpm }) => ratePpm > 0);
  return (
    <dl class="sums">
      <Sum name="Goods" words={words(totals.goodsMinor)} />
      {totals.discountMinor > 0 && <Sum name="Less your discount" words={words(-totals.discountMinor)} />}
      {shippingMinor > 0 && <Sum name="Sending it" words={words(shippingMinor)} />}
      {taxes.map(({ ratePpm, taxMinor }) => (
        <Sum
          key={ratePpm}
          name={`${pricesIncludeTax ? "Tax in it" : "Tax"}, ${taxRateWords(ratePpm)}`}
          words={words(taxMinor)}
        />
      ))}
      <div class="last">
        <dt>To pay</dt>
        <dd>{words(totals.grossMinor)}</dd>
      </div>
    </dl>
  );
}

function Sum({ name, words }: { readonly name: string; readonly words: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{words}</dd>
    </div>
  );
}
