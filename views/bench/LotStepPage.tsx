import type { LotFacts } from "../../server/shelf/queries.ts";
import { Field, FormMistake, TickField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Swatch } from "../components/Swatch.tsx";
import { pieces } from "../format/quantities.ts";
import { inMoldWords, restingWords } from "./LyingLots.tsx";
import { StillDamp } from "./StillDamp.tsx";

/** The records on a lot's way to the shelf; also the last part of their addresses. */
export type StepName = "pressing" | "unmolding" | "readiness";

interface StepProps {
  readonly lot: LotFacts;
  readonly step: StepName;
  readonly answer: FormAnswer;
  readonly now: Date;
  readonly timeZone: string;
}

/** One step of one lot, written down: how many pieces there were, and what was lost of them. */
export function LotStepPage({ lot, step, answer, now, timeZone }: StepProps) {
  return (
    <>
      <p class="trail">
        <a href="/bench">Bench</a>
      </p>
      <h1>{askFor(lot, step)}</h1>
      <p>
        <Swatch look={lot.look} />
        {lot.product}. {whatIsKnown(lot, step, timeZone)}
      </p>
      <Form action={`/bench/lots/${lot.id}/${step}`} class="narrow">
        <FormMistake answer={answer} />
        {step === "pressing" && <PressedField answer={answer} />}
        <LossFields answer={answer} />
        {isEarly(lot, step, now) && (
          <TickField name="feltDry" label="I have felt the pieces: they are dry" answer={answer} />
        )}
        <button type="submit">{buttonWords[step]}</button>
      </Form>
      {step === "unmolding" && <StillDamp lotId={lot.id} />}
    </>
  );
}

function PressedField({ answer }: { readonly answer: FormAnswer }) {
  return (
    <Field
      name="pressed"
      label="Pieces pressed"
      hint="All of them, the spoiled ones too; more than planned is fine. 0 if nothing was pressed."
      inputMode="numeric"
      autocomplete="off"
      answer={answer}
    />
  );
}

function LossFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <fieldset>
      <legend>Of these lost</legend>
      <div class="fields even loss-fields">
        {losses.map(({ name, label }) => (
          <Field
            key={name}
            name={name}
            label={label}
            inputMode="numeric"
            autocomplete="off"
            answer={answer}
          />
        ))}
      </div>
    </fieldset>
  );
}

const losses = [
  { name: "cracked", label: "Cracked" },
  { name: "stuck", label: "Stuck in the mold" },
  { name: "swollen", label: "Swollen" },
  { name: "sample", label: "Kept as sample" },
] as const;

const buttonWords: Record<StepName, string> = {
  pressing: "Pressed, now drying",
  unmolding: "Out of the molds, now resting",
  readiness: "Ready, on the shelf",
};

function askFor(lot: LotFacts, step: StepName): string {
  switch (step) {
    case "pressing":
      return `How many pieces of lot ${lot.code} were pressed?`;
    case "unmolding":
      return lot.driesIn === "none"
        ? `Lot ${lot.code}: have all ${pieces(lot.units)} been lifted?`
        : `Lot ${lot.code}: have all ${pieces(lot.units)} left their molds?`;
    case "readiness":
      return `Lot ${lot.code}: are all ${pieces(lot.units)} ready to be packed?`;
  }
}

function whatIsKnown(lot: LotFacts, step: StepName, timeZone: string): string {
  switch (step) {
    case "pressing":
      return `The plan asks for ${pieces(lot.plannedUnits ?? 0)}.`;
    case "unmolding":
      return inMoldWords(lot, timeZone);
    case "readiness":
      return restingWords(lot, timeZone);
  }
}

function isEarly(lot: LotFacts, step: StepName, now: Date): boolean {
  const due = step === "unmolding" ? lot.unmoldDueAt : step === "readiness" ? lot.readyDueAt : null;
  return due !== null && now < due;
}
