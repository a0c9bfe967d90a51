import type { StockProduct } from "../../server/shelf/queries.ts";
import { ChoiceField, Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";

interface StockProps {
  readonly kind: "ready" | "drying";
  readonly products: readonly StockProduct[];
  readonly answer: FormAnswer;
}

/** Pieces that no plan has made: what was there when the tool was taken up, or was made beside it. */
export function StockPage({ kind, products, answer }: StockProps) {
  return (
    <>
      <p class="trail">
        <a href="/shelf">Shelf</a>
      </p>
      <h1>
        {kind === "ready"
          ? "Which finished pieces are on the shelf that no run has made?"
          : "Which pieces are drying or resting that no run has made?"}
      </h1>
      {products.length === 0 && (
        <p>There is no product yet. The owner says under Setup which blend is made in which shape.</p>
      )}
      <Form action={`/shelf/${kind}-stock`} class="narrow">
        <FormMistake answer={answer} />
        <ChoiceField
          name="productId"
          label="Product"
          blank="Choose"
          choices={products.map(({ id, name }) => ({ value: String(id), label: name }))}
          answer={answer}
        />
        <Field name="units" label="Pieces" inputMode="numeric" autocomplete="off" answer={answer} />
        {kind === "drying" && <DryingFields answer={answer} />}
        <button type="submit">Enter as a new lot</button>
      </Form>
    </>
  );
}

function DryingFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <ChoiceField
        name="place"
        label="Where they lie"
        blank="Choose"
        choices={[
          { value: "mold", label: "in their molds, or still setting" },
          { value: "tray", label: "out of their molds, resting" },
        ]}
        answer={answer}
      />
      <MomentFields
        name="unmold"
        legend="May leave the mold from"
        hint="Only when in the mold."
        answer={answer}
      />
      <MomentFields name="ready" legend="May be packed from" answer={answer} />
    </>
  );
}

function MomentFields({
  name,
  legend,
  hint,
  answer,
}: {
  readonly name: "unmold" | "ready";
  readonly legend: string;
  readonly hint?: string;
  readonly answer: FormAnswer;
}) {
  return (
    <fieldset>
      <legend>{legend}</legend>
      {hint && <p class="hint">{hint}</p>}
      <div class="fields">
        <Field name={`${name}Date`} label="Date" type="date" answer={answer} />
        <Field name={`${name}Time`} label="Time" type="time" answer={answer} />
      </div>
    </fieldset>
  );
}
