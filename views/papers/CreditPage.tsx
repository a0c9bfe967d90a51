import { Field, FormMistake, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { moneyWords } from "../format/money.ts";
import { paperNumber } from "../format/paperNumber.ts";
import { pieces } from "../format/quantities.ts";
import { RadioChoice } from "../setup/RadioChoice.tsx";

interface CreditableLine {
  readonly lineId: number;
  readonly what: string;
  readonly kind: "goods" | "shipping";
  /** Most pieces that can still be credited; 1 stands for the shipping. */
  readonly left: number;
  readonly grossMinor: number;
}

export interface CreditPageProps {
  readonly invoice: {
    readonly id: number;
    readonly kind: "invoice" | "credit-note";
    readonly year: number;
    readonly number: number;
    readonly customerName: string;
    readonly currency: string;
    readonly grossMinor: number;
  };
  readonly creditedMinor: number;
  readonly lines: readonly CreditableLine[];
  readonly answer: FormAnswer;
}

/** Corrects an invoice: which of its pieces, and why. Everything that is left of it stands in the form to begin with. */
export function CreditPage({ invoice, creditedMinor, lines, answer }: CreditPageProps) {
  const left = lines.filter((line) => line.left > 0);
  return (
    <>
      <p class="trail">
        <a href={`/invoices/${invoice.id}`}>Invoice {paperNumber(invoice)}</a>
      </p>
      <h1>
        {left.length === 0
          ? `All of invoice ${paperNumber(invoice)} is credited.`
          : `Up to ${moneyWords(invoice.grossMinor - creditedMinor, invoice.currency)} of invoice ${paperNumber(invoice)} to ${invoice.customerName} can be credited.`}
      </h1>
      {left.length > 0 && (
        <Form action={`/invoices/${invoice.id}/credit`} class="narrow">
          <FormMistake answer={answer} />
          {lines.map((line, place) => (
            <CreditLine
              key={line.lineId}
              line={line}
              place={place}
              currency={invoice.currency}
              answer={answer}
            />
          ))}
          <RadioChoice
            name="billAgain"
            legend="What becomes of them"
            answer={answer}
            options={[
              {
                value: "no",
                label: "they stay credited",
                meaning: "Broken, returned, or let off: nobody is billed for them again.",
              },
              {
                value: "yes",
                label: "they are billed anew",
                meaning: "The invoice was wrong, or they have not left yet: the next invoice may have them.",
              },
            ]}
          />
          <Field
            name="reason"
            label="Why"
            hint="It stands on the credit note."
            answer={answer}
            maxLength={200}
            required
          />
          <div class="actions">
            <button type="submit">Write the credit note</button>
          </div>
        </Form>
      )}
    </>
  );
}

function CreditLine({
  line,
  place,
  currency,
  answer,
}: {
  readonly line: CreditableLine;
  readonly place: number;
  readonly currency: string;
  readonly answer: FormAnswer;
}) {
  const id = `units-${line.lineId}`;
  const mistake = `units.${place}`;
  const wrong = answer.mistakes[mistake] !== undefined;
  return (
    <div class="field credit-line">
      <input type="hidden" name="line" value={String(line.lineId)} />
      <label for={id}>{line.what}</label>
      <p class="hint" id={`${id}-hint`}>
        {line.kind === "shipping"
          ? `${moneyWords(line.grossMinor, currency)}. 1 credits it, 0 leaves it.`
          : `Pieces, of ${pieces(line.left)} that are left.`}
      </p>
      <input
        id={id}
        name="units"
        inputMode="numeric"
        autocomplete="off"
        value={typedList(answer, "units")[place] ?? ""}
        aria-invalid={wrong ? "true" : undefined}
        aria-describedby={wrong ? `${id}-hint ${mistake}-mistake` : `${id}-hint`}
      />
      <Mistake name={mistake} answer={answer} />
    </div>
  );
}
