import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import { dayWords } from "../format/dates.ts";
import { listed } from "../format/sentence.ts";
import { UsualFields } from "./UsualFields.tsx";

interface HabitPageProps {
  readonly stall: { readonly customerId: number; readonly customer: string };
  readonly kinds: readonly string[];
  readonly ahead: readonly { readonly heldOn: string }[];
  readonly currency: string;
  readonly answer: FormAnswer;
}

/** How a market usually is, and when it comes again. */
export function HabitPage({ stall, kinds, ahead, currency, answer }: HabitPageProps) {
  return (
    <>
      <p class="trail">
        <a href="/markets">Markets</a>
      </p>
      <h1>How is {stall.customer} usually?</h1>
      <p>
        {ahead.length === 0
          ? "No date of it lies ahead that is not planned yet."
          : `It comes again on ${listed(ahead.map(({ heldOn }) => dayWords(heldOn)))}.`}{" "}
        Markets that are planned already stay as they are.
      </p>
      <Form action={`/markets/habits/${stall.customerId}`} class="narrow">
        <FormMistake answer={answer} />
        <UsualFields answer={answer} currency={currency} kinds={kinds} />
        <ComesAgain answer={answer} />
        <button type="submit">Save</button>
      </Form>
    </>
  );
}

const ways = [
  { value: "never", label: "As it comes: I plan each one by its date" },
  { value: "weekly", label: "Every week, or every few weeks, on the weekday of its first date" },
  { value: "monthly", label: "Every month, on the same weekday of the month as its first date" },
] as const;

function ComesAgain({ answer }: { readonly answer: FormAnswer }) {
  const chosen = typedText(answer, "repeats");
  return (
    <fieldset>
      <legend>When it comes again</legend>
      {ways.map(({ value, label }) => (
        <div key={value} class="field tick">
          <label>
            <input type="radio" name="repeats" value={value} checked={chosen === value} />
            <span>{label}</span>
          </label>
        </div>
      ))}
      <Field
        name="weeks_apart"
        label="Weeks apart"
        hint="1 is every week."
        inputMode="numeric"
        answer={answer}
      />
      <div class="fields">
        <Field name="starts_on" label="First date" type="date" answer={answer} />
        <Field name="ends_on" label="Last date" hint="May stay empty." type="date" answer={answer} />
      </div>
    </fieldset>
  );
}
