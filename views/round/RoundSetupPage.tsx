import type { PlaceRow } from "../../server/round/placeQueries.ts";
import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { spelled } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { SetupTrail } from "../setup/SetupTrail.tsx";
import { pointWords } from "./roundWords.ts";

interface RoundSetupProps {
  readonly places: readonly PlaceRow[];
  readonly answer: FormAnswer;
}

/** How the shop drives its round, and where its stops are. */
export function RoundSetupPage({ places, answer }: RoundSetupProps) {
  return (
    <>
      <SetupTrail />
      <h1>{sentence(`the local round goes to ${spelled(places.length - 1, "customer")}`)}</h1>
      <Form action="/setup/round">
        <FormMistake answer={answer} />
        <DrivingFields answer={answer} />
        <div class="actions">
          <button type="submit">Keep this</button>
        </div>
      </Form>
      <h2>Places</h2>
      <p class="hint">
        Customers whose orders go by local round. Minutes that you enter between two places win over the
        distance.
      </p>
      <ul class="plain-list">
        {places.map((place) => (
          <li key={place.customerId ?? 0} class="row">
            <a class="room" href={placeAddress(place)}>
              {place.name}
            </a>
            <span class="room-facts">{pointWords(place)}</span>
          </li>
        ))}
      </ul>
    </>
  );
}

function DrivingFields({ answer }: Pick<RoundSetupProps, "answer">) {
  const number = { inputMode: "numeric", autocomplete: "off", answer, required: true } as const;
  return (
    <div class="fields even">
      <Field name="leavesMinute" label="Leaves at" type="time" answer={answer} required />
      <Field name="doorMinutes" label="Minutes at each door" {...number} />
      <Field
        name="kilometresAnHour"
        label="Kilometres an hour"
        hint="On the way, where no minutes were entered."
        {...number}
      />
      <Field
        name="roadPercent"
        label="Road in % of the straight line"
        hint="130 is a third longer."
        {...number}
      />
    </div>
  );
}

function placeAddress({ customerId }: PlaceRow): string {
  return customerId === null ? "/setup/round/workshop" : `/setup/round/customers/${customerId}`;
}
