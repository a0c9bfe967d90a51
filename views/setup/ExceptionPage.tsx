import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { NextPlan } from "./NextPlan.tsx";
import { SessionFields, sessionsList } from "./SessionPage.tsx";
import { SetupTrail } from "./SetupTrail.tsx";
import { NumberField } from "./WorkshopFields.tsx";

export type ExceptionKind = "day-off" | "extra" | "damp";

const questions: Readonly<Record<ExceptionKind, string>> = {
  "day-off": "On which days is the workshop closed?",
  extra: "When do you work besides the ordinary week?",
  damp: "When is the air so damp that drying takes longer?",
};

const buttons: Readonly<Record<ExceptionKind, string>> = {
  "day-off": "Close these days",
  extra: "Add the extra session",
  damp: "Plan for damp air",
};

/** What one date, or a stretch of dates, does differently. */
export function ExceptionPage({
  kind,
  answer,
}: {
  readonly kind: ExceptionKind;
  readonly answer: FormAnswer;
}) {
  return (
    <>
      <SetupTrail list={sessionsList} />
      <h1>{questions[kind]}</h1>
      {kind === "damp" && (
        <p>
          For today, <a href="/bench/air">thermometer and hygrometer suggest how long</a>.
        </p>
      )}
      <Form action={`/setup/sessions/${kind}`} class="narrow">
        <FormMistake answer={answer} />
        {kind === "extra" ? (
          <ExtraFields answer={answer} />
        ) : (
          <SpellFields answer={answer} damp={kind === "damp"} />
        )}
        <Field
          name="note"
          label="Note"
          hint="Why, for whoever reads it later; may stay blank."
          answer={answer}
          maxLength={200}
        />
        <NextPlan />
        <div class="actions">
          <button type="submit">{buttons[kind]}</button>
        </div>
      </Form>
    </>
  );
}

function ExtraFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <Field name="onDate" label="Date" type="date" answer={answer} required />
      <SessionFields answer={answer} />
    </>
  );
}

function SpellFields({ answer, damp }: { readonly answer: FormAnswer; readonly damp: boolean }) {
  return (
    <>
      <div class="fields even">
        <Field name="onDate" label="First day" type="date" answer={answer} required />
        <Field
          name="lastDate"
          label="Last day"
          type="date"
          hint="Blank for a single day; at most 92 days."
          answer={answer}
        />
      </div>
      {damp && (
        <NumberField
          name="dryingFactor"
          label="Times as long"
          hint="For what is pressed on these days. 1.5 is half as long again, as many makers count on damp days (common practice, no source); below 1 for very dry air. 0.25 to 10."
          answer={answer}
        />
      )}
    </>
  );
}
