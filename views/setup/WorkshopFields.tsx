import { ChoiceField, Field } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { wholeWords } from "../format/quantities.ts";

/** Everything the workshop is as a whole; the shapes and sessions have pages of their own. */
export function WorkshopFields({
  answer,
  timeZones,
}: {
  readonly answer: FormAnswer;
  readonly timeZones: readonly string[];
}) {
  return (
    <>
      <div class="fields even">
        <Field name="name" label="Name of the workshop" answer={answer} maxLength={80} required />
        <ChoiceField
          name="timeZone"
          label="Time zone"
          hint="Sessions are clock times in it."
          answer={answer}
          choices={timeZones.map((zone) => ({ value: zone, label: zone.replaceAll("_", " ") }))}
        />
      </div>
      <BowlFields answer={answer} />
      <TurningFields answer={answer} />
      <RoomFields answer={answer} />
    </>
  );
}

function BowlFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <fieldset>
      <legend>A bowl</legend>
      <div class="fields even">
        <NumberField
          name="bowlGrams"
          label="Most mix, grams"
          hint={`What one bowl takes. Up to ${wholeWords(200_000)}.`}
          answer={answer}
        />
        <NumberField
          name="minBowlGrams"
          label="Least mix, grams"
          hint="Below it the paddle does not work the mix properly."
          answer={answer}
        />
        <NumberField
          name="bowlMinutes"
          label="Mixer busy, minutes"
          hint="How long one bowl ties up one mixer."
          answer={answer}
        />
        <NumberField
          name="mixMinutes"
          label="Mixing by hand, minutes"
          hint="Hands for one bowl: weigh, sift, mix."
          answer={answer}
        />
        <NumberField
          name="cleanMinutes"
          label="Clean-down, minutes"
          hint="Hands after a blend, before the next one."
          answer={answer}
        />
      </div>
    </fieldset>
  );
}

function TurningFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <fieldset>
      <legend>Turning what dries</legend>
      <div class="fields even">
        <NumberField
          name="firstTurnHours"
          label="First turned after, hours"
          hint="From pressing. 4.5 is common practice."
          answer={answer}
        />
        <NumberField
          name="everyTurnHours"
          label="Then every, hours"
          hint="While somebody is there. 3 is common practice."
          answer={answer}
        />
      </div>
    </fieldset>
  );
}

function RoomFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <fieldset>
      <legend>The room</legend>
      <div class="fields even">
        <NumberField
          name="mixers"
          label="Mixers"
          hint="Bowls in use side by side. 0 to 100."
          answer={answer}
        />
        <NumberField
          name="trays"
          label="Drying trays"
          hint={`For drying and resting. 0 to ${wholeWords(10_000)}.`}
          answer={answer}
        />
        <NumberField
          name="horizonDays"
          label="Days to plan ahead"
          hint="From 3 to 120; 14 suits most weeks."
          answer={answer}
        />
      </div>
    </fieldset>
  );
}

/** A number to type in, with digits on a phone's keyboard. */
export function NumberField(props: {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly answer: FormAnswer;
}) {
  return <Field {...props} inputMode="decimal" autocomplete="off" required />;
}
