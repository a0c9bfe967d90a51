import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import { type BlendLook, type BlendPattern, blendPatterns, Swatch } from "../components/Swatch.tsx";
import { counted } from "../format/quantities.ts";
import { RadioChoice } from "./RadioChoice.tsx";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";
import { NameAndCode } from "./ShapePage.tsx";

interface KnownBlend extends BlendLook {
  readonly id: number;
  readonly code: string;
  readonly products: number;
  readonly retiredAt: Date | null;
}

/** A blend to change, or a new one where none is given. */
export function BlendPage({
  blend,
  answer,
}: {
  readonly blend: KnownBlend | null;
  readonly answer: FormAnswer;
}) {
  return (
    <>
      <SetupTrail list={{ href: "/setup/blends", name: "Blends" }} />
      <h1>
        {blend && <Swatch look={blend} />}
        {blend
          ? `${blend.name} goes into ${counted(blend.products, "product")}.`
          : "A new blend: which scent, in which colour?"}
      </h1>
      <Form action={blend ? `/setup/blends/${blend.id}` : "/setup/blends"}>
        <FormMistake answer={answer} />
        <NameAndCode answer={answer} code={blend?.code ?? null} example="cedar-amber" />
        <ColourFields answer={answer} />
        <PatternChoice answer={answer} />
        <div class="actions">
          <button type="submit">{blend ? "Keep this look" : "Add the blend"}</button>
        </div>
      </Form>
      {blend && (
        <p>
          What it is mixed from: <a href={`/recipes/${blend.id}`}>its recipe</a>.
        </p>
      )}
      {blend && (
        <Retirement
          action={`/setup/blends/${blend.id}`}
          name={blend.name}
          retired={blend.retiredAt !== null}
          meaning="No new orders are taken for its products; what is ordered, drying or on the shelf goes on."
        />
      )}
    </>
  );
}

function ColourFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <div class="fields even">
      <Field name="colour" label="Colour" type="color" hint="As it is drawn." answer={answer} required />
      <Field
        name="shade"
        label="Shade"
        hint="0 lightest to 1 darkest: light is mixed before dark. Blank: taken from the colour."
        answer={answer}
        inputMode="decimal"
        autocomplete="off"
      />
    </div>
  );
}

/**
 * The patterns, drawn in the blend's colour. With JavaScript they are drawn anew when another colour is chosen,
 * without it when the form is sent.
 */
export function PatternChoice({ answer }: { readonly answer: FormAnswer }) {
  const colour = drawable(typedText(answer, "colour"));
  return (
    <div
      id="patterns"
      hx-get="/setup/blends/patterns"
      hx-trigger="change from:#colour"
      hx-include="#colour, [name='pattern']:checked"
      hx-target="#patterns"
      hx-swap="outerHTML"
    >
      <RadioChoice
        name="pattern"
        legend="Pattern, so that no blend is told by colour alone"
        answer={answer}
        options={blendPatterns.map((pattern) => ({
          value: pattern,
          label: <PatternSample colour={colour} pattern={pattern} />,
        }))}
      />
    </div>
  );
}

function PatternSample({ colour, pattern }: { readonly colour: string; readonly pattern: BlendPattern }) {
  return (
    <span class="pattern-sample">
      <Swatch look={{ name: pattern, colour, pattern }} />
      {pattern}
    </span>
  );
}

/** What was typed, where it can be drawn. */
function drawable(typed: string): string {
  return /^#[0-9a-f]{6}$/i.test(typed) ? typed : "#d8d0c4";
}
