import { Mistake, marked } from "../components/Field.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import type { ProductChoice } from "./orderForm.ts";

/**
 * The lines of an order. The button that adds one works without JavaScript too: the server answers with the same
 * form and one line more. Lines left empty are not there.
 */
export function OrderLinesField({
  answer,
  products,
  currency,
}: {
  readonly answer: FormAnswer;
  readonly products: readonly ProductChoice[];
  /** What prices are typed in; null where they are fixed. */
  readonly currency: string | null;
}) {
  const product = typedList(answer, "product");
  const units = typedList(answer, "units");
  const price = typedList(answer, "unit_price");
  const discount = typedList(answer, "line_discount");
  const places = Array.from({ length: Math.max(product.length, units.length, 1) }, (_, place) => place);
  return (
    <fieldset class="order-lines">
      <legend>What is ordered</legend>
      <p class="hint">
        Empty lines do not count. At most 500 lines.
        {currency !== null && " A price left blank is the customer's own, or the list's."}
      </p>
      <Mistake name="lines" answer={answer} />
      <div id="order-lines">
        {places.map((place) => (
          <OrderLineFields
            key={place}
            place={place}
            line={{
              product: product[place] ?? "",
              units: units[place] ?? "",
              price: price[place] ?? "",
              discount: discount[place] ?? "",
            }}
            currency={currency}
            answer={answer}
            products={products}
          />
        ))}
      </div>
      <button
        type="submit"
        class="quiet"
        name="save"
        value="one-more-line"
        formnovalidate
        hx-post={currency === null ? "/orders/lines?prices=fixed" : "/orders/lines"}
        hx-target="#order-lines"
        hx-swap="beforeend"
        hx-disable="this"
      >
        One more line
      </button>
    </fieldset>
  );
}

interface LineProps {
  readonly place: number;
  readonly line: Readonly<Record<"product" | "units" | "price" | "discount", string>>;
  readonly answer: FormAnswer;
  readonly products: readonly ProductChoice[];
  readonly currency: string | null;
  /** True for a line that was just asked for. */
  readonly focus?: boolean;
}

/** One line: product, pieces, and what was agreed for it; their mistakes below. */
export function OrderLineFields({ place, line, answer, products, currency, focus = false }: LineProps) {
  const names = { product: `lines.${place}.product`, units: `lines.${place}.units` };
  const agreed = { price: `lines.${place}.unit_price`, discount: `lines.${place}.line_discount` };
  return (
    <fieldset class={currency === null ? "order-line" : "order-line priced"} aria-label={`Line ${place + 1}`}>
      <div>
        <label for={names.product}>Product</label>
        <select id={names.product} name="product" autofocus={focus} {...marked(names.product, answer)}>
          <option value="">Choose a product</option>
          {products.map(({ id, name }) => (
            <option key={id} value={id} selected={String(id) === line.product}>
              {name}
            </option>
          ))}
        </select>
      </div>
      <div>
        <label for={names.units}>Pieces</label>
        <input
          id={names.units}
          name="units"
          inputMode="numeric"
          autocomplete="off"
          maxLength={12}
          value={line.units}
          {...marked(names.units, answer)}
        />
      </div>
      {currency !== null && (
        <>
          <Amount
            id={agreed.price}
            name="unit_price"
            label={`Price, ${currency}`}
            answer={answer}
            typed={line.price}
          />
          <Amount
            id={agreed.discount}
            name="line_discount"
            label="Less, %"
            answer={answer}
            typed={line.discount}
          />
        </>
      )}
      <div class="line-mistakes">
        <Mistake name={names.product} answer={answer} />
        <Mistake name={names.units} answer={answer} />
        <Mistake name={agreed.price} answer={answer} />
        <Mistake name={agreed.discount} answer={answer} />
      </div>
    </fieldset>
  );
}

function Amount({
  id,
  name,
  label,
  answer,
  typed,
}: {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly answer: FormAnswer;
  readonly typed: string;
}) {
  return (
    <div>
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        inputMode="decimal"
        autocomplete="off"
        maxLength={20}
        value={typed}
        {...marked(id, answer)}
      />
    </div>
  );
}
