import { ChoiceField, Field, FormMistake, LongField, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { type PiecesChoice, PiecesField } from "../components/PiecesField.tsx";
import { weekdayWords } from "../format/dates.ts";

interface StandingOrderFormProps {
  /** The one to change; null: a new one. */
  readonly order: { readonly id: number; readonly customer: string } | null;
  readonly answer: FormAnswer;
  readonly customers: readonly { readonly id: number; readonly name: string }[];
  readonly products: readonly PiecesChoice[];
}

/** Taking up a standing order, and changing one. */
export function StandingOrderFormPage({ order, answer, customers, products }: StandingOrderFormProps) {
  return (
    <>
      <p class="trail">
        <a href={order ? `/orders/standing/${order.id}` : "/orders/standing"}>
          {order ? order.customer : "Standing orders"}
        </a>
      </p>
      <h1>{order ? `What does ${order.customer} want from now on?` : "Who wants what, again and again?"}</h1>
      {order && <p>Drafts that were made already stay as they are.</p>}
      <Form action={order ? `/orders/standing/${order.id}/edit` : "/orders/standing/new"} class="order-form">
        <FormMistake answer={answer} />
        {!order && (
          <ChoiceField
            name="customer"
            label="Shop"
            answer={answer}
            blank="Choose a shop"
            choices={customers.map(({ id, name }) => ({ value: String(id), label: name }))}
          />
        )}
        <WeekdaysField answer={answer} />
        <RhythmFields answer={answer} />
        <PiecesField
          legend="What it wants each time"
          hint="Pieces at each date; leave the others blank."
          products={products}
          answer={answer}
        />
        <LongField
          name="note"
          label="Note"
          hint="Stands on every draft: wishes, what to put in the box."
          answer={answer}
        />
        <p class="actions">
          <button type="submit">{order ? "Keep this" : "Take it up"}</button>
        </p>
      </Form>
    </>
  );
}

function RhythmFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <div class="fields even">
      <Field
        name="every_weeks"
        label="Every how many weeks"
        hint="1 is each week, 2 every other one."
        answer={answer}
        inputMode="numeric"
        autocomplete="off"
        maxLength={4}
      />
      <Field
        name="starts_on"
        label="From"
        hint="The first date it may be needed; weeks count from here."
        type="date"
        answer={answer}
      />
      <Field name="ends_on" label="Until" hint="Blank: until further notice." type="date" answer={answer} />
      <Field
        name="days_before"
        label="Days before, for its draft"
        hint="Time to say yes, make, dry and send it."
        answer={answer}
        inputMode="numeric"
        autocomplete="off"
        maxLength={4}
      />
    </div>
  );
}

function WeekdaysField({ answer }: { readonly answer: FormAnswer }) {
  const ticked = typedList(answer, "weekday");
  return (
    <fieldset class="choices">
      <legend>On which days it is needed</legend>
      <div class="choices-list brief">
        {[1, 2, 3, 4, 5, 6, 7].map((weekday) => (
          <label key={weekday} class="choice">
            <input
              type="checkbox"
              name="weekday"
              value={weekday}
              checked={ticked.includes(String(weekday))}
              aria-describedby={answer.mistakes.weekday ? "weekday-mistake" : undefined}
            />
            <span>{weekdayWords(weekday)}</span>
          </label>
        ))}
      </div>
      <Mistake name="weekday" answer={answer} />
    </fieldset>
  );
}
