import { Field, TickField } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";

/** How a supply is kept and bought. */
export function StockFields({
  unit,
  answer,
}: {
  readonly unit: "grams" | "pieces";
  readonly answer: FormAnswer;
}) {
  return (
    <fieldset>
      <legend>Keeping and buying it</legend>
      <div class="fields even">
        <Field
          name="leastOnHand"
          label={`Always have at least, ${unit}`}
          hint="Blank: buy only what is needed."
          inputMode="decimal"
          autocomplete="off"
          answer={answer}
        />
        <Field
          name="coverDays"
          label="One purchase covers, days"
          hint="From the day it is first needed on. Blank: 14."
          inputMode="numeric"
          autocomplete="off"
          answer={answer}
        />
      </div>
      <TickField
        name="uncounted"
        label="Nobody keeps count of it"
        hint="Such as water from the tap: it is never bought, booked or missed."
        answer={answer}
      />
    </fieldset>
  );
}
