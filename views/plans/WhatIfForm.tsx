import { ChoiceField, Field, FormMistake } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { dayWords } from "../format/dates.ts";
import { counted } from "../format/quantities.ts";
import type { WhatIfChoices } from "./whatIfFigures.ts";

/** Asks what would be if something were different. Its answer is a page with an address: the link is the question. */
export function WhatIfForm({
  choices,
  answer,
}: {
  readonly choices: WhatIfChoices;
  readonly answer: FormAnswer;
}) {
  return (
    <form method="get" action="/plan/what-if">
      <FormMistake answer={answer} />
      <p class="hint">Leave blank what stays as it is today.</p>
      <fieldset>
        <legend>The workshop</legend>
        <WorkshopFields choices={choices} answer={answer} />
      </fieldset>
      <fieldset>
        <legend>The orders</legend>
        <OrderFields choices={choices} answer={answer} />
      </fieldset>
      <p class="actions">
        <button type="submit">See what would be</button>
        <span class="aside">Takes a few seconds. Nothing is kept.</span>
      </p>
    </form>
  );
}

interface PartProps {
  readonly choices: WhatIfChoices;
  readonly answer: FormAnswer;
}

function WorkshopFields({ choices, answer }: PartProps) {
  const shapes = choices.shapes.map(({ code, name, sets }) => ({
    value: code,
    label: `${name} (${counted(sets, "set")} today)`,
  }));
  const dates = choices.dates.map((date) => ({ value: date, label: dayWords(date) }));
  const number = { answer, inputMode: "numeric" } as const;
  return (
    <div class="fields">
      <ChoiceField name="shape" label="Molds of" choices={shapes} blank="as today" answer={answer} />
      <Field name="sets" label="have so many sets" {...number} />
      <Field name="trays" label="Trays" hint={`${choices.trays} today`} {...number} />
      <Field name="mixers" label="Mixers" hint={`${choices.mixers} today`} {...number} />
      <Field
        name="hands"
        label="Hand minutes more in every session"
        hint="With a minus in front: fewer."
        answer={answer}
      />
      <ChoiceField name="damp" label="Damp day" choices={dates} blank="none but today's" answer={answer} />
      <Field
        name="factor"
        label="drying so many times as long"
        hint="Such as 1.5"
        answer={answer}
        inputMode="decimal"
      />
    </div>
  );
}

function OrderFields({ choices, answer }: PartProps) {
  const orders = choices.orders.map(({ reference, customer }) => ({
    value: reference,
    label: customer === "" ? reference : `${reference} ${customer}`,
  }));
  const products = choices.products.map(({ code, name }) => ({ value: code, label: name }));
  return (
    <div class="fields">
      <ChoiceField name="without" label="Without the order" choices={orders} blank="none" answer={answer} />
      <ChoiceField name="product" label="More of" choices={products} blank="nothing" answer={answer} />
      <Field name="units" label="so many pieces" answer={answer} inputMode="numeric" />
      <Field name="by" label="packed by" type="date" answer={answer} />
    </div>
  );
}
