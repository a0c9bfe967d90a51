import { Mistake } from "../components/Field.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { shortDayWords } from "../format/dates.ts";
import { moneyWords, plainMoney } from "../format/money.ts";

export interface GridProduct {
  readonly id: number;
  readonly name: string;
  readonly look: BlendLook;
  /** In force on the day that is shown; null: none. */
  readonly price: number | null;
  /** What a list asks beside it, where there is one. */
  readonly listPrice: number | null;
  /** From when another price is written down already. */
  readonly nextFrom: string | null;
}

/**
 * A price to type for every product. Beside each is sent what it was, so that only what somebody changed is kept.
 */
export function PriceGrid({
  products,
  currency,
  answer,
}: {
  readonly products: readonly GridProduct[];
  readonly currency: string;
  readonly answer: FormAnswer;
}) {
  return (
    <>
      <Mistake name="prices" answer={answer} />
      <div class="price-grid">
        {products.map((product, place) => (
          <PriceField key={product.id} {...{ product, place, currency, answer }} />
        ))}
      </div>
    </>
  );
}

function PriceField({
  product,
  place,
  currency,
  answer,
}: {
  readonly product: GridProduct;
  readonly place: number;
  readonly currency: string;
  readonly answer: FormAnswer;
}) {
  const at = typedList(answer, "product").indexOf(String(product.id));
  const now = product.price === null ? "" : plainMoney(product.price, currency);
  const name = `prices.${at < 0 ? place : at}.price`;
  const wrong = at >= 0 && answer.mistakes[name] !== undefined;
  const hint = hintOf(product, currency);
  const described = [hint ? `${name}-hint` : "", wrong ? `${name}-mistake` : ""].filter((id) => id !== "");
  return (
    <div class="price-field">
      <input type="hidden" name="product" value={product.id} />
      <input type="hidden" name="was" value={(at < 0 ? undefined : typedList(answer, "was")[at]) ?? now} />
      <label for={name}>
        <Swatch look={product.look} />
        {product.name}
      </label>
      <input
        id={name}
        name="price"
        inputMode="decimal"
        autocomplete="off"
        value={(at < 0 ? undefined : typedList(answer, "price")[at]) ?? now}
        aria-invalid={wrong ? "true" : undefined}
        aria-describedby={described.length > 0 ? described.join(" ") : undefined}
      />
      {hint && (
        <p class="hint" id={`${name}-hint`}>
          {hint}
        </p>
      )}
      {wrong && <Mistake name={name} answer={answer} />}
    </div>
  );
}

function hintOf({ listPrice, nextFrom }: GridProduct, currency: string): string {
  return [
    listPrice === null ? "" : `List: ${moneyWords(listPrice, currency)}.`,
    nextFrom === null ? "" : `Changes on ${shortDayWords(nextFrom)}.`,
  ]
    .filter((words) => words !== "")
    .join(" ");
}
