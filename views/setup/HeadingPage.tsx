import { ChoiceField, Field, FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { SetupTrail } from "./SetupTrail.tsx";

/** What stands on every paper that goes to a customer. */
export function HeadingPage({
  isWritten,
  answer,
}: {
  readonly isWritten: boolean;
  readonly answer: FormAnswer;
}) {
  return (
    <>
      <SetupTrail />
      <h1>
        {isWritten
          ? "This stands on your papers from now on; invoices that are written keep theirs."
          : "Your papers have no heading yet: who sends them, and where to pay?"}
      </h1>
      <Form action="/setup/heading" class="narrow">
        <FormMistake answer={answer} />
        <Field
          name="name"
          label="Name on papers"
          hint="Blank: the workshop's."
          answer={answer}
          maxLength={120}
          autocomplete="off"
        />
        <LongField name="address" label="Address" answer={answer} rows={4} />
        <Field
          name="taxNumber"
          label="Tax number"
          hint="With the words your tax office asks for before it; what has to stand on an invoice where you sell is for you and your adviser to settle."
          answer={answer}
          maxLength={120}
          autocomplete="off"
        />
        <LongField
          name="paymentWords"
          label="Words on paying"
          hint="On invoices, below the due date."
          answer={answer}
          rows={2}
        />
        <LongField name="bank" label="Bank" hint="At the foot of every paper." answer={answer} rows={3} />
        <LongField name="footer" label="Foot" hint="What else stands there." answer={answer} rows={2} />
        <ChoiceField
          name="paperSize"
          label="Paper"
          answer={answer}
          choices={[
            { value: "A4", label: "A4, 210 x 297 mm" },
            { value: "Letter", label: "Letter, 8.5 x 11 in" },
          ]}
        />
        <div class="actions">
          <button type="submit">Keep this</button>
        </div>
      </Form>
    </>
  );
}
