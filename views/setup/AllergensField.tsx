import { Field, LongField } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";

/** What listed allergens a scent oil holds, a line each, and which paper of its supplier says so. */
export function AllergensField({ answer }: { readonly answer: FormAnswer }) {
  return (
    <fieldset>
      <legend>Scent oils: the listed allergens in it</legend>
      <p class="hint">
        Labels for the European Union and the United Kingdom name what is above 0.01 % of the dry piece. Enter
        the whole list of the supplier's statement: what is not entered cannot be named.
      </p>
      <LongField
        name="allergens"
        label="Allergens, with their percentage of the oil"
        hint="One a line, as labels call it: Linalool 2.5. Where it says less than, enter that figure. Write none where it states none; blank: no statement yet."
        answer={answer}
        rows={5}
      />
      <Field
        name="allergenSource"
        label="Which paper states them"
        hint="Supplier, number, date."
        answer={answer}
        maxLength={200}
      />
    </fieldset>
  );
}
