import type { CostsOnADay } from "../../server/costs/queries.ts";
import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { ProductCostFacts } from "../costs/PieceCostsPage.tsx";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

interface KnownProduct {
  readonly id: number;
  readonly code: string;
  readonly name: string;
  readonly blend: BlendLook & { readonly id: number };
  readonly shape: { readonly id: number; readonly name: string };
  readonly retiredAt: Date | null;
}

interface PackedWith {
  readonly supplyId: number;
  readonly name: string;
  readonly amount: number;
  /** So many pieces share it. */
  readonly forPieces: number;
}

export function ProductPage({
  product,
  packing,
  costs,
  answer,
}: {
  readonly product: KnownProduct;
  readonly packing: readonly PackedWith[];
  readonly costs: CostsOnADay;
  readonly answer: FormAnswer;
}) {
  const { blend, shape } = product;
  return (
    <>
      <SetupTrail list={{ href: "/setup/products", name: "Products" }} />
      <h1>{`${product.name} is ${product.retiredAt === null ? "in the range" : "retired"}.`}</h1>
      <p>
        <Swatch look={blend} />
        <a href={`/setup/blends/${blend.id}`}>{blend.name}</a>, pressed into{" "}
        <a href={`/setup/shapes/${shape.id}`}>{shape.name}</a>. Files and plans call it{" "}
        <strong>{product.code}</strong>.
      </p>
      <Form action={`/setup/products/${product.id}`} class="narrow">
        <FormMistake answer={answer} />
        <Field
          name="name"
          label="Name"
          hint="As customers and packing lists call it."
          answer={answer}
          maxLength={170}
          required
        />
        <div class="actions">
          <button type="submit">Keep this name</button>
        </div>
      </Form>
      <section>
        <h2>Packed with</h2>
        {packing.length === 0 ? (
          <p>Nobody has said yet what its pieces are packed with.</p>
        ) : (
          <ul class="plain-list narrow">
            {packing.map(({ supplyId, name, amount, forPieces }) => (
              <li key={supplyId} class="row">
                <a href={`/supplies/${supplyId}`}>{name}</a>
                <span>{packingWords(amount, forPieces)}</span>
              </li>
            ))}
          </ul>
        )}
        <p class="actions">
          <a class="button quiet" href={`/setup/products/${product.id}/packing`}>
            {packing.length === 0 ? "Say what it is packed with" : "Change the packing list"}
          </a>
        </p>
      </section>
      <section>
        <h2>Label</h2>
        <p class="actions">
          <a class="button quiet" href={`/setup/products/${product.id}/label`}>
            What its label declares
          </a>
        </p>
      </section>
      <ProductCostFacts costs={costs} />
      <Retirement
        action={`/setup/products/${product.id}`}
        name={product.name}
        retired={product.retiredAt !== null}
        meaning="No new orders are taken for it; what is ordered, drying or on the shelf goes on."
      />
    </>
  );
}

function packingWords(amount: number, forPieces: number): string {
  return forPieces === 1 ? `${amount} a piece` : `${amount} for every ${forPieces} pieces`;
}
