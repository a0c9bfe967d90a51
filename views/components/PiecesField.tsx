import type { ComponentChildren } from "preact";
import { Mistake } from "./Field.tsx";
import { type FormAnswer, typedList } from "./formAnswer.ts";
import { type BlendLook, Swatch } from "./Swatch.tsx";

/** A product one may ask for. */
export interface PiecesChoice {
  readonly id: number;
  readonly name: string;
  readonly look: BlendLook;
  /** What there is to know of it: a price, the size of a case. */
  readonly about?: ComponentChildren;
}

/**
 * How many pieces of each product: a row for every one, most of them left blank. Sent as two lists side by side,
 * `product` and `units`; the mistake about product 12 stands at "lines.12".
 */
export function PiecesField({
  legend,
  hint,
  products,
  answer,
}: {
  readonly legend: string;
  readonly hint: string;
  readonly products: readonly PiecesChoice[];
  readonly answer: FormAnswer;
}) {
  const typed = new Map(
    typedList(answer, "product").map((id, place) => [id, typedList(answer, "units")[place] ?? ""]),
  );
  return (
    <fieldset class="pieces">
      <legend>{legend}</legend>
      <p class="hint">{hint}</p>
      <Mistake name="lines" answer={answer} />
      <ul class="plain-list">
        {products.map((product) => (
          <PiecesRow
            key={product.id}
            product={product}
            name={`lines.${product.id}`}
            units={typed.get(String(product.id)) ?? ""}
            answer={answer}
          />
        ))}
      </ul>
    </fieldset>
  );
}

function PiecesRow({
  product: { id, name: product, look, about },
  name,
  units,
  answer,
}: {
  readonly product: PiecesChoice;
  readonly name: string;
  readonly units: string;
  readonly answer: FormAnswer;
}) {
  const wrong = answer.mistakes[name] !== undefined;
  return (
    <li class="pieces-row">
      <label for={name}>
        <Swatch look={look} />
        {product}
        {about && <span class="aside said">{about}</span>}
      </label>
      <input type="hidden" name="product" value={id} />
      <input
        id={name}
        name="units"
        value={units}
        inputMode="numeric"
        autocomplete="off"
        maxLength={12}
        aria-invalid={wrong ? "true" : undefined}
        aria-describedby={wrong ? `${name}-mistake` : undefined}
      />
      <Mistake name={name} answer={answer} />
    </li>
  );
}
