import type { FoundInvoice } from "../../server/papers/queries.ts";
import { ChoiceField, Field, FormMistake, TickField } from "../components/Field.tsx";
import { Fold } from "../components/Fold.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import { shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { type EntryKind, entryNames } from "./Entries.tsx";

/** Enters what settled an invoice; a part of it, too. */
export function PaymentForm({
  invoice,
  answer,
}: {
  readonly invoice: FoundInvoice;
  readonly answer: FormAnswer;
}) {
  const { id, currency, earlyUntil, earlyDiscountMinor } = invoice;
  const wrong = Object.keys(answer.mistakes).length > 0;
  const kinds = (Object.keys(entryNames) as EntryKind[]).filter(
    (kind) => kind !== "early-discount" || earlyDiscountMinor !== null,
  );
  return (
    <Fold name="Enter a payment" open={wrong}>
      <Form action={`/invoices/${id}/payments`}>
        <FormMistake answer={answer} />
        <div class="fields even">
          <ChoiceField
            name="kind"
            label="What it was"
            hint={
              earlyUntil === null || earlyDiscountMinor === null
                ? "What is let off is no longer asked for."
                : `The discount, ${moneyWords(earlyDiscountMinor, currency)} by ${shortDayWords(earlyUntil)}, is entered beside the money.`
            }
            answer={answer}
            choices={kinds.map((kind) => ({ value: kind, label: entryNames[kind] }))}
          />
          <Field
            name="amount"
            label={`Amount, ${currency}`}
            hint="A part of it is right, too."
            inputMode="decimal"
            answer={answer}
            required
          />
          <Field name="paidOn" label="On" hint="The day it came." type="date" answer={answer} required />
        </div>
        <Field
          name="words"
          label="Words"
          hint="Such as what the bank says of it."
          answer={answer}
          maxLength={200}
        />
        {(answer.mistakes.amount !== undefined || typedText(answer, "beyond") === "yes") && (
          <TickField
            name="beyond"
            label="It is more than is open; the rest is in the customer's favour."
            answer={answer}
          />
        )}
        <div class="actions">
          <button type="submit">Enter it</button>
        </div>
      </Form>
    </Fold>
  );
}
