import type { ReckonedShopOrder } from "../../server/stockist/reckonShopOrder.ts";
import type { ShopPromise } from "../../server/stockist/shopPromise.ts";
import { pieces } from "../format/quantities.ts";
import { ShopMoney } from "./ShopMoney.tsx";
import { casesWords, leastWords, promiseWords } from "./shopWords.ts";

export interface ReckoningProps {
  /** Null: nothing that can be reckoned stands there yet. */
  readonly reckoned: ReckonedShopOrder | null;
  readonly currency: string;
  /** The names of the products, by number. */
  readonly names: ReadonlyMap<number, string>;
}

/** What stands on the page comes to, and what has to be changed before it can be sent: it follows the typing. */
export function Reckoning({ reckoned, currency, names }: ReckoningProps) {
  if (reckoned === null || reckoned.units === 0)
    return <p class="aside">Nothing is asked for yet; here stands what it comes to.</p>;
  const { objections, units, money } = reckoned;
  return (
    <>
      <p>
        <strong>{pieces(units)}</strong>
      </p>
      {objections.notWholeCases.length > 0 && (
        <ul class="objections">
          {objections.notWholeCases.map((line) => (
            <li key={line.productId}>
              {names.get(line.productId)}: {casesWords(line)}
            </li>
          ))}
        </ul>
      )}
      {objections.below && <p class="objection">{leastWords(objections.below, currency)}</p>}
      {money && <ShopMoney money={money} />}
    </>
  );
}

/** When it can be had: a date, or that we write; nothing else. */
export function WhenWords({ promise }: { readonly promise: ShopPromise | null }) {
  return promise === null ? null : <p class="when">{promiseWords(promise)}</p>;
}
