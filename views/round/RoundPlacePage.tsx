import type { PlaceRow } from "../../server/round/placeQueries.ts";
import { Field, FormMistake, Mistake, marked } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { SetupTrail } from "../setup/SetupTrail.tsx";
import { pointWords } from "./roundWords.ts";

interface RoundPlaceProps {
  readonly place: PlaceRow;
  readonly others: readonly PlaceRow[];
  readonly answer: FormAnswer;
}

/** Where one place of the round is, and how long it takes from there to the others. */
export function RoundPlacePage({ place, others, answer }: RoundPlaceProps) {
  const { customerId, name } = place;
  const degrees = { autocomplete: "off", answer } as const;
  return (
    <>
      <SetupTrail list={{ href: "/setup/round", name: "Local round" }} />
      <h1>
        {name}: {pointWords(place)}.
      </h1>
      <Form action={customerId === null ? "/setup/round/workshop" : `/setup/round/customers/${customerId}`}>
        <FormMistake answer={answer} />
        <div class="fields even">
          <Field name="latitude" label="Latitude" hint="In degrees, north positive: 51.5." {...degrees} />
          <Field name="longitude" label="Longitude" hint="In degrees, east positive: -0.12." {...degrees} />
        </div>
        {others.length > 0 && (
          <fieldset>
            <legend>Minutes to the other places</legend>
            <p class="hint">The same both ways. Left empty, the distance tells.</p>
            {others.map((other, at) => (
              <MinutesField key={other.customerId ?? 0} other={other} at={at} answer={answer} />
            ))}
          </fieldset>
        )}
        <div class="actions">
          <button type="submit">Keep this</button>
        </div>
      </Form>
    </>
  );
}

interface MinutesFieldProps {
  readonly other: PlaceRow;
  readonly at: number;
  readonly answer: FormAnswer;
}

function MinutesField({ other, at, answer }: MinutesFieldProps) {
  const name = `drives.${at}.minutes`;
  return (
    <div class="field">
      <input type="hidden" name="to" value={String(other.customerId ?? 0)} />
      <label for={name}>{other.name}</label>
      <input
        id={name}
        name="minutes"
        value={typedList(answer, "minutes")[at] ?? ""}
        inputMode="numeric"
        autocomplete="off"
        {...marked(name, answer)}
      />
      <Mistake name={name} answer={answer} />
    </div>
  );
}
