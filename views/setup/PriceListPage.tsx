import { Field, FormMistake, TickField } from "../components/Field.tsx";
import { Fold } from "../components/Fold.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { spelled } from "../format/quantities.ts";
import { type GridProduct, PriceGrid } from "./PriceGrid.tsx";
import { kindWords, statedWords } from "./priceWords.ts";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

interface ShownList {
  readonly id: number;
  readonly name: string;
  readonly kind: "retail" | "wholesale";
  readonly includesTax: boolean;
  readonly usual: boolean;
  readonly retiredAt: Date | null;
}

interface PriceListPageProps {
  readonly list: ShownList;
  readonly products: readonly GridProduct[];
  readonly currency: string;
  readonly answer: FormAnswer;
  readonly headAnswer: FormAnswer;
}

/** What a list asks for each product, and from when. */
export function PriceListPage({ list, products, currency, answer, headAnswer }: PriceListPageProps) {
  const action = `/setup/prices/${list.id}`;
  return (
    <>
      <SetupTrail list={{ href: "/setup/prices", name: "Price lists" }} />
      <h1>{listSentence(list, products)}</h1>
      <p>
        {kindWords[list.kind]} {statedWords(list.includesTax)}{" "}
        {list.usual && "It is the one they buy from when nothing else is said."}
      </p>
      {products.length > 0 && (
        <Form action={`${action}/prices`}>
          <FormMistake answer={answer} />
          <ValidFromField answer={answer} />
          <p class="hint">
            Prices of one piece in {currency}; a blank takes a product off the list. Only what you change is
            kept, from that day on. Confirmed orders keep the prices they have.
          </p>
          <PriceGrid products={products} currency={currency} answer={answer} />
          <div class="actions">
            <button type="submit">Keep these prices</button>
          </div>
        </Form>
      )}
      <HeadForm action={action} answer={headAnswer} />
      <Retirement
        action={action}
        name={list.name}
        retired={list.retiredAt !== null}
        meaning="Nobody can be given it any more; orders that were priced by it stay as they are."
      />
    </>
  );
}

function listSentence({ name }: ShownList, products: readonly GridProduct[]): string {
  if (products.length === 0) return `${name} waits for products to price.`;
  const without = products.filter(({ price }) => price === null).length;
  if (without === 0) return `${name} has a price for ${spelled(products.length, "product")}.`;
  if (without === products.length) return `${name} has no prices yet.`;
  return `${name} has a price for ${spelled(products.length - without, "product")}; ${spelled(without, "product")} ${without === 1 ? "has" : "have"} none.`;
}

export function ValidFromField({ answer }: { readonly answer: FormAnswer }) {
  return (
    <div class="narrow">
      <Field
        name="validFrom"
        label="Valid from"
        hint="Shown are the prices of today."
        type="date"
        answer={answer}
        required
      />
    </div>
  );
}

function HeadForm({ action, answer }: { readonly action: string; readonly answer: FormAnswer }) {
  return (
    <Fold name="Name, and who buys from it" open={Object.keys(answer.mistakes).length > 0}>
      <Form action={action} class="narrow">
        <FormMistake answer={answer} />
        <Field name="name" label="Name" answer={answer} maxLength={80} required />
        <TickField
          name="usual"
          label="The usual list of its kind"
          hint="For every customer who was not given another one. There is one at a time."
          answer={answer}
        />
        <div class="actions">
          <button type="submit">Keep this</button>
        </div>
      </Form>
    </Fold>
  );
}
