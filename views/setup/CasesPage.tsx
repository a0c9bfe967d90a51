import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { pieces } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import { CaseField } from "./CaseField.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

interface CasesPageProps {
  readonly cases: readonly { readonly id: number; readonly name: string; readonly units: number | null }[];
  readonly answer: FormAnswer;
}

/** In what multiples each shape is sold to everybody who has no case of its own. */
export function CasesPage({ cases, answer }: CasesPageProps) {
  return (
    <>
      <SetupTrail />
      <h1>{casesSentence(cases)}</h1>
      <Form action="/setup/cases">
        <FormMistake answer={answer} />
        <p class="hint">A customer may have cases of its own: they are set on the customer's page.</p>
        <div class="fields even">
          {cases.map(({ id, name }, place) => (
            <CaseField
              key={id}
              shape={{ id, name }}
              place={place}
              group="cases"
              hint="Blank: sold singly."
              answer={answer}
            />
          ))}
        </div>
        <div class="actions">
          <button type="submit">Keep these cases</button>
        </div>
      </Form>
    </>
  );
}

function casesSentence(cases: CasesPageProps["cases"]): string {
  const inCases = cases.flatMap(({ name, units }) => (units === null ? [] : [`${name} by ${pieces(units)}`]));
  return inCases.length === 0 ? "Everything is sold singly." : `Sold in cases: ${listed(inCases)}.`;
}
