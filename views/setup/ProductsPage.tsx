import { FormMistake, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { counted } from "../format/quantities.ts";
import { SetupTrail } from "./SetupTrail.tsx";

interface BlendRow extends BlendLook {
  readonly id: number;
}

interface ShapeRow {
  readonly id: number;
  readonly name: string;
}

interface ProductRow {
  readonly id: number;
  readonly code: string;
  readonly name: string;
  readonly blendId: number;
  readonly shapeId: number;
  readonly retiredAt: Date | null;
}

interface ProductsPageProps {
  readonly blends: readonly BlendRow[];
  readonly shapes: readonly ShapeRow[];
  readonly products: readonly ProductRow[];
  readonly answer: FormAnswer;
}

/** The range: every blend against every shape, what is made and what could be. */
export function ProductsPage(props: ProductsPageProps) {
  const made = props.products.filter((product) => product.retiredAt === null).length;
  return (
    <>
      <SetupTrail />
      <h1>
        {made === 0
          ? "Nothing is in the range yet: tick what you make."
          : `You make ${counted(made, "product")}.`}
      </h1>
      {props.blends.length === 0 || props.shapes.length === 0 ? (
        <NothingToCross {...props} />
      ) : (
        <Grid {...props} />
      )}
      <RetiredProducts products={props.products} />
    </>
  );
}

function NothingToCross({ blends, shapes }: ProductsPageProps) {
  return (
    <p>
      A product is a blend in a shape.{" "}
      {blends.length === 0 && (
        <>
          First <a href="/setup/blends/new">add a blend</a>.{" "}
        </>
      )}
      {shapes.length === 0 && (
        <>
          First <a href="/setup/shapes/new">add a shape</a>.
        </>
      )}
    </p>
  );
}

function Grid({ blends, shapes, products, answer }: ProductsPageProps) {
  const ticked = new Set(typedList(answer, "cells"));
  const known = new Map(products.map((product) => [`${product.blendId}x${product.shapeId}`, product]));
  return (
    <Form action="/setup/products">
      <FormMistake answer={answer} />
      <Mistake name="cells" answer={answer} />
      <table class="stack range">
        <thead>
          <tr>
            <th scope="col">Blend</th>
            {shapes.map((shape) => (
              <th key={shape.id} scope="col">
                {shape.name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {blends.map((blend) => (
            <tr key={blend.id}>
              <th scope="row">
                <Swatch look={blend} />
                {blend.name}
              </th>
              {shapes.map((shape) => {
                const cell = `${blend.id}x${shape.id}`;
                return (
                  <td key={shape.id} data-label={shape.name}>
                    <Cell
                      cell={cell}
                      product={known.get(cell)}
                      ticked={ticked.has(cell)}
                      words={`${blend.name}, ${shape.name}`}
                    />
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
      <div class="actions">
        <button type="submit">Take the ticked ones into the range</button>
      </div>
    </Form>
  );
}

/** Made already: its page. Not made: a box to tick. */
function Cell({
  cell,
  product,
  ticked,
  words,
}: {
  readonly cell: string;
  readonly product: ProductRow | undefined;
  readonly ticked: boolean;
  readonly words: string;
}) {
  if (product?.retiredAt === null) {
    return (
      <a href={`/setup/products/${product.id}`} aria-label={`${product.name}: made`}>
        made
      </a>
    );
  }
  return (
    <label class="cell-tick">
      <input type="checkbox" name="cells" value={cell} checked={ticked} aria-label={`Make ${words}`} />
      <span class="aside">{product ? "retired" : "not made"}</span>
    </label>
  );
}

function RetiredProducts({ products }: { readonly products: readonly ProductRow[] }) {
  const retired = products.filter((product) => product.retiredAt !== null);
  if (retired.length === 0) return null;
  return (
    <details>
      <summary>{counted(retired.length, "retired product")}</summary>
      <ul class="plain-list">
        {retired.map((product) => (
          <li key={product.id}>
            <a href={`/setup/products/${product.id}`}>{product.name}</a>{" "}
            <span class="aside">{product.code}</span>
          </li>
        ))}
      </ul>
    </details>
  );
}
