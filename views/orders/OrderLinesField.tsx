import { Mistake } from "../components/Field.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import type { ProductChoice } from "./orderForm.ts";

/**
 * The lines of an order. The button that adds one works without JavaScript too: the server answers with the same
 * form and one line more. Lines left empty are not there.
 */
export function OrderLinesField({
  answer,
  products,
}: {
  readonly answer: FormAnswer;
  readonly products: readonly ProductChoice[];
}) {
  const product = typedList(answer, "product");
  const units = typedList(answer, "units");
  const places = Array.from({ length: Math.max(product.length, units.length, 1) }, (_, place) => place);
  return (
    <fieldset class="order-lines">
      <legend>What is ordered</legend>
      <p class="hint">Empty lines do not count. At most 500 lines.</p>
      <Mistake name="lines" answer={answer} />
      <div id="order-lines">
        {places.map((place) => (
          <OrderLineFields
            key={place}
            place={place}
            line={{ product: product[place] ?? "", units: units[place] ?? "" }}
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
        hx-post="/orders/lines"
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
  readonly line: { readonly product: string; readonly units: string };
  readonly answer: FormAnswer;
  readonly products: readonly ProductChoice[];
  /** True for a line that was just asked for. */
  readonly focus?: boolean;
}

/** One line: product and pieces, their mistakes below. */
export function OrderLineFields({ place, line, answer, products, focus = false }: LineProps) {
  const names = { product: `lines.${place}.product`, units: `lines.${place}.units` };
  return (
    <fieldset class="order-line" aria-label={`Line ${place + 1}`}>
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
      <div class="line-mistakes">
        <Mistake name={names.product} answer={answer} />
        <Mistake name={names.units} answer={answer} />
      </div>
    </fieldset>
  );
}

function marked(name: string, answer: FormAnswer) {
  return answer.mistakes[name] === undefined
    ? {}
    : { "aria-invalid": "true" as const, "aria-describedby": `${name}-mistake` };
}
