import type { LabelContent } from "../../server/labels/labelContent.ts";
import type { Market } from "../../server/labels/markets.ts";
import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { weightWords } from "../format/quantities.ts";
import { SetupTrail } from "../setup/SetupTrail.tsx";
import { netWeightWords } from "./labelWords.ts";
import { NoAdvice } from "./NoAdvice.tsx";

interface ProductLabelProps {
  readonly product: { readonly productId: number; readonly product: string };
  /** With as much declared as may be. */
  readonly content: LabelContent;
  readonly gs1Prefix: string | null;
  readonly answer: FormAnswer;
}

/** What a product's labels declare, how long it keeps, and its number under the shop's prefix. */
export function ProductLabelPage({ product, content, gs1Prefix, answer }: ProductLabelProps) {
  const { dryMilligrams, netWeight, market } = content;
  return (
    <>
      <SetupTrail list={{ href: `/setup/products/${product.productId}`, name: product.product }} />
      <h1>
        {netWeight && dryMilligrams !== null
          ? `Labels of ${product.product} may declare up to ${netWeightWords(netWeight, market === "us").replace(/^Net (Wt|weight) /, "")}.`
          : `Nobody knows yet what ${product.product} weighs dry: its blend has no recipe.`}
      </h1>
      {dryMilligrams !== null && (
        <p>
          A piece weighs {weightWords(dryMilligrams)} dry by the recipe that holds today. Weigh some of your
          pieces: where they come out lighter, declare less.
        </p>
      )}
      <NoAdvice />
      <Form action={`/setup/products/${product.productId}/label`} class="narrow">
        <FormMistake answer={answer} />
        <Field
          name="declaredGrams"
          label="Net weight to declare, grams"
          hint="Blank: as much as may be, rounded down."
          answer={answer}
          inputMode="decimal"
          autocomplete="off"
        />
        <Field
          name="durabilityMonths"
          label="Months it keeps"
          hint={durabilityHint(market)}
          answer={answer}
          inputMode="numeric"
          autocomplete="off"
        />
        <Field
          name="gs1Number"
          label="Number under the shop's GS1 prefix"
          hint={
            gs1Prefix === null
              ? "The shop has no prefix, so it has none."
              : `Behind ${gs1Prefix}; the check digit is reckoned. Blank: none.`
          }
          answer={answer}
          inputMode="numeric"
          autocomplete="off"
        />
        <div class="actions">
          <button type="submit">Keep this</button>
          <a class="button quiet" href={`/labels/products/${product.productId}`}>
            Look at its label
          </a>
        </div>
      </Form>
    </>
  );
}

function durabilityHint(market: Market): string {
  const stated =
    "From the day it is made, in its packaging, as your safety assessment found. Look again when recipe or packaging changes.";
  return market === "us" || market === "none"
    ? `${stated} Your labels carry no date.`
    : `${stated} Up to 30, labels carry a date.`;
}
