import { Field, FormMistake, LongField, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import type { BatchSheetProps } from "./BatchSheetPage.tsx";

/** What is written down by hand: the room, the sprays of each bowl, and what went otherwise than it should. */
export function RecordForm({ batch, answer }: Pick<BatchSheetProps, "batch" | "answer">) {
  return (
    <section class="no-paper">
      <h2>Write down</h2>
      <Form action={`/bench/runs/${batch.id}/sheet`} class="narrow">
        <FormMistake answer={answer} />
        <input type="hidden" name="version" value={batch.record.version} />
        <div class="fields even">
          <Field
            name="roomCelsius"
            label="Room, °C"
            hint="Blank: not measured."
            inputMode="decimal"
            autocomplete="off"
            answer={answer}
          />
          <Field
            name="humidityPercent"
            label="Humidity, %"
            hint="Blank: not measured."
            inputMode="numeric"
            autocomplete="off"
            answer={answer}
          />
        </div>
        <fieldset>
          <legend>Sprays after squeeze tests</legend>
          <div class="fields even">
            {Array.from({ length: batch.bowls }, (_, place) => (
              <SprayField key={place} place={place} answer={answer} />
            ))}
          </div>
        </fieldset>
        <LongField name="note" label="What went otherwise" hint="Blank: nothing." answer={answer} />
        <button type="submit">Keep it</button>
      </Form>
    </section>
  );
}

function SprayField({ place, answer }: { readonly place: number; readonly answer: FormAnswer }) {
  const name = `sprays.${place}`;
  const isWrong = answer.mistakes[name] !== undefined;
  return (
    <div class="field">
      <label for={name}>{`Bowl ${place + 1}`}</label>
      <input
        id={name}
        name="sprays"
        value={typedList(answer, "sprays")[place] ?? ""}
        inputMode="numeric"
        autocomplete="off"
        aria-invalid={isWrong ? "true" : undefined}
        aria-describedby={isWrong ? `${name}-mistake` : undefined}
      />
      <Mistake name={name} answer={answer} />
    </div>
  );
}
