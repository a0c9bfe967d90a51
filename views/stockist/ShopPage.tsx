import type { FilledIn } from "../../server/stockist/orderAgain.ts";
import type { ShopOrderRow } from "../../server/stockist/shopOrders.ts";
import type { ShopPromise } from "../../server/stockist/shopPromise.ts";
import type { ShopRange } from "../../server/stockist/shopRange.ts";
import { Field, FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { PiecesField } from "../components/PiecesField.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { moneyWords } from "../format/money.ts";
import { pieces, spelled, wholeWords } from "../format/quantities.ts";
import { capitalised, listed } from "../format/sentence.ts";
import { Reckoning, type ReckoningProps, WhenWords } from "./Reckoning.tsx";
import { ShopOrderList } from "./ShopOrderList.tsx";

interface ShopPageProps {
  /** The page's own address. */
  readonly base: string;
  readonly shop: string;
  readonly range: ShopRange;
  readonly answer: FormAnswer;
  readonly reckoning: ReckoningProps;
  readonly promise: ShopPromise | null;
  readonly orders: readonly ShopOrderRow[];
  /** The older order whose pieces stand in the form; null: it is blank, or as it was typed. */
  readonly again: FilledIn | null;
}

/** The order page of one shop: what it may order, what that comes to, and what became of its orders. */
export function ShopPage({ base, shop, range, answer, reckoning, promise, orders, again }: ShopPageProps) {
  return (
    <>
      <h1>{headline(shop, orders)}</h1>
      {again && (
        <p class="notice" role="status">
          Filled in from <Unbroken words={again.knownAs} />; say when you need it.
          {again.leftOut.length > 0 && ` No longer on offer, so left out: ${listed(again.leftOut)}.`}
        </p>
      )}
      {range.products.length === 0 ? (
        <p>There is nothing to order just now. Please ask us.</p>
      ) : (
        <OrderForm base={base} range={range} answer={answer} reckoning={reckoning} promise={promise} />
      )}
      <ShopOrderList base={base} orders={orders} />
    </>
  );
}

function headline(shop: string, orders: readonly ShopOrderRow[]): string {
  const waiting = orders.filter(({ state }) => state === "draft").length;
  const asked = `What may we make for ${shop}?`;
  if (waiting === 0) return asked;
  return `${asked} ${waiting === 1 ? "One order of yours waits" : `${capitalised(spelled(waiting, "order"))} of yours wait`} for our answer.`;
}

function OrderForm({
  base,
  range,
  answer,
  reckoning,
  promise,
}: Pick<ShopPageProps, "base" | "range" | "answer" | "reckoning" | "promise">) {
  return (
    <Form action={base} class="shop-form beside" id="shop-form">
      <FormMistake answer={answer} />
      <PiecesField
        legend="How many of each"
        hint={termsHint(range)}
        products={range.products.map((product) => ({ ...product, about: aboutProduct(product, range) }))}
        answer={answer}
      />
      <div class="fields even">
        <Field name="needed_by" label="When do you need it" type="date" answer={answer} />
        <Field
          name="customer_reference"
          label="Your own number for it"
          hint="If you have one."
          answer={answer}
          maxLength={40}
          autocomplete="off"
        />
      </div>
      <LongField name="note" label="What else should we know" answer={answer} />
      <div class="form-answers">
        <section class="sheet reckoning" aria-label="What it comes to">
          <div
            id="reckoning"
            aria-live="polite"
            hx-post={`${base}/reckoning`}
            hx-trigger="input delay:300ms from:#shop-form"
            hx-include="#shop-form"
            hx-target="this"
            hx-swap="innerHTML"
            hx-sync="this:replace"
          >
            <Reckoning {...reckoning} />
          </div>
          <div
            id="when"
            aria-live="polite"
            hx-post={`${base}/promise`}
            hx-trigger="input delay:500ms from:#shop-form"
            hx-include="#shop-form"
            hx-target="this"
            hx-swap="innerHTML"
            hx-sync="this:replace"
          >
            <WhenWords promise={promise} />
          </div>
        </section>
        <p class="actions">
          <button type="submit" name="do" value="send">
            Send the order
          </button>
          <noscript>
            <button type="submit" class="quiet" name="do" value="reckon" formnovalidate>
              What does it come to, and when?
            </button>
          </noscript>
        </p>
        <p class="aside">We look at it and write to you; only then is it agreed.</p>
      </div>
    </Form>
  );
}

function termsHint({
  currency,
  pricesIncludeTax,
  leastOrderMinor,
  leastOrderUnits,
  products,
}: ShopRange): string {
  const isPriced = products.some(({ unitPriceMinor }) => unitPriceMinor !== null);
  const sentences = [
    isPriced
      ? `Prices for one piece, ${pricesIncludeTax ? "tax in them" : "without tax"}.`
      : "At the prices we agreed.",
    leastOrderUnits === null ? "" : `Orders begin at ${pieces(leastOrderUnits)}.`,
    leastOrderMinor === null ? "" : `Orders begin at ${moneyWords(leastOrderMinor, currency)}.`,
  ];
  return sentences.filter((part) => part !== "").join(" ");
}

function aboutProduct(
  { unitPriceMinor, caseUnits }: ShopRange["products"][number],
  { currency }: ShopRange,
): string | undefined {
  const parts = [
    unitPriceMinor === null ? "" : moneyWords(unitPriceMinor, currency),
    caseUnits === 1 ? "" : `in cases of ${wholeWords(caseUnits)}`,
  ].filter((part) => part !== "");
  return parts.length === 0 ? undefined : parts.join(", ");
}
