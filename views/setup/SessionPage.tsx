import { Field, FormMistake, Mistake, TickField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { weekdayWords } from "../format/dates.ts";
import { NextPlan } from "./NextPlan.tsx";
import { hoursWords, type SessionRow, sessionAside } from "./SessionsPage.tsx";
import { SetupTrail } from "./SetupTrail.tsx";
import { NumberField } from "./WorkshopFields.tsx";

export const sessionsList = { href: "/setup/sessions", name: "Sessions" };

/** The same hours on one weekday or several. */
export function NewSessionsPage({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <SetupTrail list={sessionsList} />
      <h1>When do you work in an ordinary week?</h1>
      <Form action="/setup/sessions" class="narrow">
        <FormMistake answer={answer} />
        <WeekdayTicks answer={answer} />
        <SessionFields answer={answer} />
        <NextPlan />
        <div class="actions">
          <button type="submit">Add these sessions</button>
        </div>
      </Form>
    </>
  );
}

export function SessionPage({
  session,
  answer,
}: {
  readonly session: SessionRow;
  readonly answer: FormAnswer;
}) {
  const address = `/setup/sessions/${session.id}`;
  const hours = hoursWords(session.startsMinute, session.endsMinute);
  return (
    <>
      <SetupTrail list={sessionsList} />
      <h1>
        {weekdayWords(session.weekday)}, {hours}: {sessionAside(session)}.
      </h1>
      <Form action={address} class="narrow">
        <FormMistake answer={answer} />
        <SessionFields answer={answer} />
        <NextPlan />
        <div class="actions">
          <button type="submit">Keep these hours</button>
        </div>
      </Form>
      <details class="retirement">
        <summary>Take it out of the week</summary>
        <Form action={`${address}/removal`}>
          <p>
            The next plan then has nothing done on {weekdayWords(session.weekday)} from {hours}. For a single
            date, enter a day off instead.
          </p>
          <button type="submit">Take it out of the week</button>
        </Form>
      </details>
    </>
  );
}

function WeekdayTicks({ answer }: { readonly answer: FormAnswer }) {
  const ticked = typedList(answer, "weekdays");
  return (
    <fieldset class="choices">
      <legend>Days</legend>
      <div class="choices-list brief">
        {[1, 2, 3, 4, 5, 6, 7].map((weekday) => (
          <label key={weekday} class="choice">
            <input
              type="checkbox"
              name="weekdays"
              value={String(weekday)}
              checked={ticked.includes(String(weekday))}
            />
            <span>{weekdayWords(weekday)}</span>
          </label>
        ))}
      </div>
      <Mistake name="weekdays" answer={answer} />
    </fieldset>
  );
}

/** From when to when, with how many hands, and whether bowls are mixed. */
export function SessionFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <div class="fields even">
        <Field name="starts" label="From" type="time" hint="01:00 or later" answer={answer} required />
        <Field name="ends" label="To" type="time" hint="23:00 or earlier" answer={answer} required />
      </div>
      <p class="hint">
        Sessions keep away from midnight, so that no change of the clocks ever carries one into another day. A
        day has at most ten.
      </p>
      <NumberField
        name="handMinutes"
        label="Hand minutes"
        hint="People times minutes really free for this work: one person for four hours has 240, less what the door and the telephone take."
        answer={answer}
      />
      <TickField
        name="mixing"
        label="Bowls are mixed in it"
        hint="Unticked: only turning, unmolding and packing."
        answer={answer}
      />
    </>
  );
}
