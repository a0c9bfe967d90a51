import { ChoiceField, Field, FormMistake, TickField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { kindWords, statedWords } from "./priceWords.ts";
import { RadioChoice } from "./RadioChoice.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

interface NewPriceListPageProps {
  readonly lists: readonly { readonly id: number; readonly name: string }[];
  readonly answer: FormAnswer;
}

export function NewPriceListPage({ lists, answer }: NewPriceListPageProps) {
  return (
    <>
      <SetupTrail list={{ href: "/setup/prices", name: "Price lists" }} />
      <h1>A new price list: for whom, and with the tax or without?</h1>
      <Form action="/setup/prices">
        <FormMistake answer={answer} />
        <div class="narrow">
          <Field name="name" label="Name" answer={answer} maxLength={80} autocomplete="off" required />
        </div>
        <RadioChoice
          name="kind"
          legend="Kind"
          answer={answer}
          options={[
            { value: "wholesale", label: "wholesale", meaning: kindWords.wholesale },
            { value: "retail", label: "retail", meaning: kindWords.retail },
          ]}
        />
        <RadioChoice
          name="includesTax"
          legend="Tax"
          answer={answer}
          options={[
            { value: "no", label: "on top", meaning: statedWords(false) },
            { value: "yes", label: "in the price", meaning: statedWords(true) },
          ]}
        />
        <TickField
          name="usual"
          label="The usual list of its kind"
          hint="For every customer who was not given another one. There is one at a time."
          answer={answer}
        />
        <fieldset>
          <legend>To begin with</legend>
          <div class="fields even">
            <ChoiceField
              name="copyOf"
              label="Prices from another list"
              answer={answer}
              blank="none, I type them"
              choices={lists.map(({ id, name }) => ({ value: String(id), label: name }))}
            />
            <Field
              name="share"
              label="Per cent of those prices"
              hint="100 for the same, 60 for three fifths of them."
              inputMode="decimal"
              autocomplete="off"
              answer={answer}
            />
            <Field name="validFrom" label="Valid from" type="date" answer={answer} required />
          </div>
        </fieldset>
        <div class="actions">
          <button type="submit">Add the price list</button>
        </div>
      </Form>
    </>
  );
}
