import type { SheetRow } from "../../server/labels/queries.ts";
import { ChoiceField, Field, FormMistake, TickField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { counted } from "../format/quantities.ts";
import { Retirement } from "../setup/Retirement.tsx";
import { SetupTrail } from "../setup/SetupTrail.tsx";
import { NumberField } from "../setup/WorkshopFields.tsx";
import { labelSizeWords } from "./lengthWords.ts";
import { SheetDrawing } from "./SheetDrawing.tsx";

/** A sheet to change, or a new one where none is given. */
export function LabelSheetPage({
  sheet,
  answer,
}: {
  readonly sheet: SheetRow | null;
  readonly answer: FormAnswer;
}) {
  const action = sheet ? `/setup/labels/sheets/${sheet.id}` : "/setup/labels/sheets";
  return (
    <>
      <SetupTrail list={{ href: "/setup/labels", name: "Labels" }} />
      <h1>
        {sheet
          ? `${sheet.name} has ${counted(sheet.columns * sheet.rows, "label")} of ${labelSizeWords(sheet)}.`
          : "A new sheet: measure it once, and every label lies where it belongs."}
      </h1>
      {sheet && <SheetDrawing sheet={sheet} first={1} />}
      <Form action={action}>
        <FormMistake answer={answer} />
        <SheetFields answer={answer} />
        <div class="actions">
          <button type="submit">{sheet ? "Keep this" : "Add the sheet"}</button>
        </div>
      </Form>
      {sheet && (
        <Retirement
          action={action}
          name={sheet.name}
          retired={sheet.retiredAt !== null}
          meaning="It is offered for printing no more."
        />
      )}
    </>
  );
}

function SheetFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <div class="fields even">
        <Field
          name="name"
          label="Name"
          hint="As you know it, such as small squares."
          answer={answer}
          maxLength={80}
          required
        />
        <ChoiceField
          name="unit"
          label="Measured in"
          hint="All lengths below."
          answer={answer}
          choices={[
            { value: "mm", label: "millimetres" },
            { value: "in", label: "inches" },
          ]}
        />
      </div>
      <fieldset>
        <legend>Paper</legend>
        <div class="fields even">
          <NumberField name="paperWidth" label="Paper width" answer={answer} />
          <NumberField name="paperHeight" label="Paper height" answer={answer} />
          <NumberField name="columns" label="Labels across" answer={answer} />
          <NumberField name="rows" label="Labels down" answer={answer} />
        </div>
      </fieldset>
      <fieldset>
        <legend>Labels</legend>
        <div class="fields even">
          <NumberField name="labelWidth" label="Label width" answer={answer} />
          <NumberField name="labelHeight" label="Label height" answer={answer} />
          <NumberField
            name="marginLeft"
            label="Left margin"
            hint="Paper's edge to the first label."
            answer={answer}
          />
          <NumberField
            name="marginTop"
            label="Top margin"
            hint="Paper's edge to the first label."
            answer={answer}
          />
          <NumberField
            name="gapAcross"
            label="Gap across"
            hint="Between two labels side by side."
            answer={answer}
          />
          <NumberField
            name="gapDown"
            label="Gap down"
            hint="Between a label and the one below."
            answer={answer}
          />
        </div>
        <TickField name="isRound" label="The labels are round" answer={answer} />
      </fieldset>
    </>
  );
}
