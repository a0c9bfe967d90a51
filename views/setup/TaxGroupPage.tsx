import { Field, FormMistake } from "../components/Field.tsx";
import { Fold } from "../components/Fold.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { dayWords } from "../format/dates.ts";
import { taxRateWords } from "../format/money.ts";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";
import { RateFields } from "./TaxGroupsPage.tsx";

interface TaxGroupPageProps {
  readonly group: {
    readonly id: number;
    readonly name: string;
    readonly retiredAt: Date | null;
    /** The newest first. */
    readonly rates: readonly { readonly validFrom: string; readonly ratePpm: number }[];
  };
  readonly today: string;
  readonly nameAnswer: FormAnswer;
  readonly rateAnswer: FormAnswer;
}

/** The rates of a group, and from when each holds. */
export function TaxGroupPage({ group, today, nameAnswer, rateAnswer }: TaxGroupPageProps) {
  const action = `/setup/taxes/${group.id}`;
  const now = group.rates.find(({ validFrom }) => validFrom <= today);
  return (
    <>
      <SetupTrail list={{ href: "/setup/taxes", name: "Tax" }} />
      <h1>{`${group.name}: ${now ? taxRateWords(now.ratePpm) : "no rate"} today.`}</h1>
      <ul class="plain-list">
        {group.rates.map(({ validFrom, ratePpm }) => (
          <li key={validFrom}>
            {taxRateWords(ratePpm)} from {dayWords(validFrom, { year: true })}
          </li>
        ))}
      </ul>
      <Form action={`${action}/rates`}>
        <fieldset>
          <legend>Another rate</legend>
          <p class="hint">Orders take the rate of the day they are to ship. Confirmed orders keep theirs.</p>
          <FormMistake answer={rateAnswer} />
          <div class="fields even">
            <RateFields answer={rateAnswer} />
          </div>
        </fieldset>
        <div class="actions">
          <button type="submit">Keep this rate</button>
        </div>
      </Form>
      <Fold name="What the group is called" open={Object.keys(nameAnswer.mistakes).length > 0}>
        <Form action={action} class="narrow">
          <FormMistake answer={nameAnswer} />
          <Field name="name" label="Name" answer={nameAnswer} maxLength={80} required />
          <div class="actions">
            <button type="submit">Keep this name</button>
          </div>
        </Form>
      </Fold>
      <Retirement
        action={action}
        name={group.name}
        retired={group.retiredAt !== null}
        meaning="Nobody can be put into it any more; confirmed orders keep their rate."
      />
    </>
  );
}
