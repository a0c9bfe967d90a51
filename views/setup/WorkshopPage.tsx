import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { counted, weightWords } from "../format/quantities.ts";
import { NextPlan } from "./NextPlan.tsx";
import { SetupTrail } from "./SetupTrail.tsx";
import { WorkshopFields } from "./WorkshopFields.tsx";

interface WorkshopPageProps {
  readonly workshop: {
    readonly mixers: number;
    readonly trays: number;
    readonly bowlMilligrams: number;
  };
  readonly answer: FormAnswer;
  readonly timeZones: readonly string[];
}

export function WorkshopPage({ workshop, answer, timeZones }: WorkshopPageProps) {
  return (
    <>
      <SetupTrail />
      <h1>
        You work with {counted(workshop.mixers, "mixer")} of up to {weightWords(workshop.bowlMilligrams)} a
        bowl, and {counted(workshop.trays, "drying tray")}.
      </h1>
      <Form action="/setup/workshop">
        <FormMistake answer={answer} />
        <WorkshopFields answer={answer} timeZones={timeZones} />
        <NextPlan />
        <div class="actions">
          <button type="submit">Keep these numbers</button>
        </div>
      </Form>
    </>
  );
}
