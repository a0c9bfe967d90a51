import { Field, FormMistake, LongField, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { weekdayWords } from "../format/dates.ts";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

interface KnownSupplier {
  readonly id: number;
  readonly name: string;
  readonly deliveryDays: number;
  readonly retiredAt: Date | null;
}

const WEEK = [1, 2, 3, 4, 5, 6, 7] as const;

/** A supplier to change, or a new one where none is given. */
export function SupplierPage({
  supplier,
  answer,
}: {
  readonly supplier: KnownSupplier | null;
  readonly answer: FormAnswer;
}) {
  const action = supplier ? `/setup/suppliers/${supplier.id}` : "/setup/suppliers";
  const ticked = typedList(answer, "weekdays");
  return (
    <>
      <SetupTrail list={{ href: "/setup/suppliers", name: "Suppliers" }} />
      <h1>
        {supplier
          ? `${supplier.name} takes ${supplier.deliveryDays === 1 ? "a day" : `${supplier.deliveryDays} days`} to deliver.`
          : "A new supplier: who is it, and how long do they take?"}
      </h1>
      <Form action={action}>
        <FormMistake answer={answer} />
        <div class="fields even">
          <Field name="name" label="Name" answer={answer} maxLength={120} required />
          <Field
            name="deliveryDays"
            label="Days to deliver"
            hint="From ordering to having it here, weekends counted."
            inputMode="numeric"
            autocomplete="off"
            answer={answer}
            required
          />
        </div>
        <fieldset>
          <legend>Ordered there on</legend>
          <p class="hint">None ticked: on any day.</p>
          <Mistake name="weekdays" answer={answer} />
          <div class="weekday-ticks">
            {WEEK.map((day) => (
              <label key={day}>
                <input
                  type="checkbox"
                  name="weekdays"
                  value={String(day)}
                  checked={ticked.includes(String(day))}
                />
                <span>{weekdayWords(day)}</span>
              </label>
            ))}
          </div>
        </fieldset>
        <LongField
          name="contact"
          label="How to order there"
          hint="Address, number, who to ask for, your account there."
          answer={answer}
        />
        <div class="actions">
          <button type="submit">{supplier ? "Keep this" : "Add the supplier"}</button>
        </div>
      </Form>
      {supplier && (
        <Retirement
          action={action}
          name={supplier.name}
          retired={supplier.retiredAt !== null}
          meaning="Nothing is bought there any more; what came from there stays known."
        />
      )}
    </>
  );
}
