import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { wholeWords } from "../format/quantities.ts";
import { type DriesIn, dryingMeanings, dryingWords, placesWords } from "./dryingWords.ts";
import { NextPlan } from "./NextPlan.tsx";
import { RadioChoice } from "./RadioChoice.tsx";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";
import { NumberField } from "./WorkshopFields.tsx";

interface KnownShape {
  readonly id: number;
  readonly code: string;
  readonly name: string;
  readonly moldSets: number;
  readonly places: number | null;
  readonly retiredAt: Date | null;
}

/** A shape to change, or a new one where none is given. */
export function ShapePage({
  shape,
  answer,
}: {
  readonly shape: KnownShape | null;
  readonly answer: FormAnswer;
}) {
  return (
    <>
      <SetupTrail list={{ href: "/setup/shapes", name: "Shapes" }} />
      <h1>
        {shape
          ? `${shape.name}: ${placesWords(shape.moldSets, shape.places)}.`
          : "A new shape: what do you press the mix into?"}
      </h1>
      <Form action={shape ? `/setup/shapes/${shape.id}` : "/setup/shapes"}>
        <FormMistake answer={answer} />
        <NameAndCode answer={answer} code={shape?.code ?? null} example="ball-60" />
        <DryingFields answer={answer} />
        <PieceFields answer={answer} />
        <HandFields answer={answer} />
        <NextPlan />
        <div class="actions">
          <button type="submit">{shape ? "Keep these numbers" : "Add the shape"}</button>
        </div>
      </Form>
      {shape && (
        <Retirement
          action={`/setup/shapes/${shape.id}`}
          name={shape.name}
          retired={shape.retiredAt !== null}
          meaning="No new orders are taken for its products; what is ordered, drying or on the shelf goes on."
        />
      )}
    </>
  );
}

/** A name, and the short code that files and plans use: chosen once, never changed. */
export function NameAndCode({
  answer,
  code,
  example,
}: {
  readonly answer: FormAnswer;
  /** The code it has already; null for a new thing. */
  readonly code: string | null;
  readonly example: string;
}) {
  return (
    <div class="fields even">
      <Field name="name" label="Name" answer={answer} maxLength={80} autocomplete="off" required />
      {code === null ? (
        <Field
          name="code"
          label="Short code"
          hint={`As files and plans call it, such as ${example}; it stays as it is. Blank: taken from the name.`}
          answer={answer}
          maxLength={40}
          autocomplete="off"
        />
      ) : (
        <div class="field">
          <strong>Short code</strong>
          <p class="hint">Stays, as files and kept plans use it.</p>
          <p class="settled">{code}</p>
        </div>
      )}
    </div>
  );
}

function DryingFields({ answer }: { readonly answer: FormAnswer }) {
  const kinds: readonly DriesIn[] = ["half", "whole", "none"];
  return (
    <>
      <RadioChoice
        name="driesIn"
        legend="How does it dry?"
        answer={answer}
        options={kinds.map((kind) => ({
          value: kind,
          label: dryingWords[kind],
          meaning: dryingMeanings[kind],
        }))}
      />
      <div class="fields even">
        <NumberField
          name="moldSets"
          label="Mold sets"
          hint={`Two halves make a set. 0 to ${wholeWords(100_000)}.`}
          answer={answer}
        />
        <NumberField
          name="moldHours"
          label="In the mold, hours"
          hint="From pressing to unmolding; turned out at once: until it can be lifted. Up to 720."
          answer={answer}
        />
        <NumberField
          name="restHours"
          label="Rest, hours"
          hint="On the tray after that, before packing. Up to 720."
          answer={answer}
        />
      </div>
    </>
  );
}

function PieceFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <fieldset>
      <legend>A piece</legend>
      <div class="fields even">
        <NumberField
          name="pieceGrams"
          label="Mix for a piece, grams"
          hint={`What is spilled included. Up to ${wholeWords(10_000)}.`}
          answer={answer}
        />
        <NumberField
          name="unitsPerTray"
          label="Pieces on a tray"
          hint="One tray carries one product of one session."
          answer={answer}
        />
      </div>
    </fieldset>
  );
}

function HandFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <fieldset>
      <legend>Seconds by hand for a piece</legend>
      <p class="hint">Time a dozen and divide by twelve. 0 to {wholeWords(3600)} each.</p>
      <div class="fields even">
        <NumberField name="formSeconds" label="Pressing" answer={answer} />
        <NumberField
          name="turnSeconds"
          label="Turning"
          hint="In each session it is in its mold."
          answer={answer}
        />
        <NumberField name="unmoldSeconds" label="Unmolding" answer={answer} />
        <NumberField name="packSeconds" label="Packing" hint="Cup, bag, tie, label." answer={answer} />
      </div>
    </fieldset>
  );
}
