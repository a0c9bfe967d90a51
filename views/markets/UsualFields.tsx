import { Field } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";

interface UsualFieldsProps {
  readonly answer: FormAnswer;
  /** ISO 4217. */
  readonly currency: string;
  /** Kinds that were named before. */
  readonly kinds: readonly string[];
}

/** What is the same of a market on a date and of a market as it usually is. */
export function UsualFields({ answer, currency, kinds }: UsualFieldsProps) {
  return (
    <>
      <Field
        name="kind"
        label="Kind of market"
        hint="Markets of one kind are learned from together, such as weekly market or craft fair. May stay empty."
        list="kinds"
        maxLength={60}
        autocomplete="off"
        answer={answer}
      />
      <datalist id="kinds">
        {kinds.map((kind) => (
          <option key={kind} value={kind} />
        ))}
      </datalist>
      <Field name="place" label="Place" hint="May stay empty." maxLength={200} answer={answer} />
      <div class="fields">
        <Field name="opens" label="Opens at" type="time" answer={answer} />
        <Field name="closes" label="Closes at" type="time" answer={answer} />
        <Field name="fee" label={`Fee of the stall (${currency})`} inputMode="decimal" answer={answer} />
        <Field
          name="loading"
          label="Minutes from loading to opening"
          hint="Loading, driving, setting up."
          inputMode="numeric"
          answer={answer}
        />
      </div>
    </>
  );
}
