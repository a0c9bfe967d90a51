import { ChoiceField, Field, FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { dayWords } from "../format/dates.ts";
import { UsualFields } from "./UsualFields.tsx";

interface MarketFormPageProps {
  /** Null: a new one. */
  readonly market: { readonly id: number; readonly customer: string; readonly heldOn: string } | null;
  readonly stalls: readonly { readonly customerId: number; readonly customer: string }[];
  readonly kinds: readonly string[];
  readonly answer: FormAnswer;
  readonly currency: string;
}

/** Writing down a market on a date, or what is different about it. */
export function MarketFormPage({ market, stalls, kinds, answer, currency }: MarketFormPageProps) {
  return (
    <>
      <p class="trail">
        {market ? <a href={`/markets/${market.id}`}>{market.customer}</a> : <a href="/markets">Markets</a>}
      </p>
      <h1>
        {market
          ? `What is different about ${market.customer} on ${dayWords(market.heldOn)}?`
          : "Which market, and when?"}
      </h1>
      <Form action={market ? `/markets/${market.id}/edit` : "/markets"} class="narrow">
        <FormMistake answer={answer} />
        {!market && <WhichMarket stalls={stalls} answer={answer} />}
        <UsualFields answer={answer} currency={currency} kinds={kinds} />
        <LongField name="note" label="Note" hint="May stay empty." answer={answer} />
        <button type="submit">{market ? "Save the change" : "Write it down"}</button>
      </Form>
    </>
  );
}

function WhichMarket({ stalls, answer }: Pick<MarketFormPageProps, "stalls" | "answer">) {
  return (
    <>
      <ChoiceField
        name="customer"
        label="Market"
        blank="Choose"
        choices={stalls.map(({ customerId, customer }) => ({ value: String(customerId), label: customer }))}
        answer={answer}
      />
      <Field
        name="held_on"
        label="Date"
        type="date"
        hint="A market that has been may be written down too: its count then helps the next."
        answer={answer}
      />
    </>
  );
}
