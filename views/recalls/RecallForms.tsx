import type { ShownRecall } from "../../server/recalls/queries.ts";
import { ChoiceField, Field, FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { noticeWays } from "./recallWords.ts";

/** Somebody was told, or sent pieces back. */
export function NoticeForm({
  recallId,
  recipients,
  answer,
}: {
  readonly recallId: number;
  readonly recipients: ShownRecall["recipients"];
  readonly answer: FormAnswer;
}) {
  return (
    <section class="not-printed">
      <h2>Write down who was told</h2>
      <Form action={`/recalls/${recallId}/notices`} class="narrow">
        <FormMistake answer={answer} />
        <ChoiceField
          name="customerId"
          label="Whom"
          blank="Choose"
          choices={recipients.map(({ customerId, customer, notices }) => ({
            value: String(customerId),
            label: notices.length === 0 ? `${customer}, still to be told` : customer,
          }))}
          answer={answer}
        />
        <ChoiceField
          name="how"
          label="How"
          blank="Choose"
          choices={Object.entries(noticeWays).map(([value, label]) => ({ value, label }))}
          answer={answer}
        />
        <LongField name="said" label="What they said" hint="May stay empty." rows={2} answer={answer} />
        <Field
          name="unitsBack"
          label="Pieces they sent back"
          hint="Since they were told last. Keep them apart: they go on no shelf."
          inputMode="numeric"
          autocomplete="off"
          answer={answer}
        />
        <button type="submit">Write it down</button>
      </Form>
    </section>
  );
}

/** It is over, or was a mistake. */
export function EndForm({ recallId, answer }: { readonly recallId: number; readonly answer: FormAnswer }) {
  return (
    <section class="not-printed">
      <h2>It is over, or was a mistake</h2>
      <p>What is still here may then be packed and used again.</p>
      <Form action={`/recalls/${recallId}/end`} class="narrow">
        <FormMistake answer={answer} />
        <Field
          name="note"
          label="Why it ends"
          hint="In a few words; it is kept with the reason."
          maxLength={200}
          answer={answer}
        />
        <button type="submit" class="quiet">
          End the recall
        </button>
      </Form>
    </section>
  );
}
