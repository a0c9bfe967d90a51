import { Field, FormMistake, Mistake, marked } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { weightWords } from "../format/quantities.ts";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

interface KnownSize {
  readonly id: number;
  readonly name: string;
  readonly tareMilligrams: number;
  readonly retiredAt: Date | null;
}

interface BoxSizePageProps {
  readonly size: KnownSize | null;
  readonly shapes: readonly { readonly id: number; readonly name: string }[];
  readonly answer: FormAnswer;
}

/** A size of box to change, or a new one where none is given. */
export function BoxSizePage({ size, shapes, answer }: BoxSizePageProps) {
  const action = size ? `/setup/boxes/${size.id}` : "/setup/boxes";
  return (
    <>
      <SetupTrail list={{ href: "/setup/boxes", name: "Boxes" }} />
      <h1>
        {size
          ? `${size.name} weighs ${weightWords(size.tareMilligrams)} empty.`
          : "A new box: what do you call it, and what fills it?"}
      </h1>
      <Form action={action}>
        <FormMistake answer={answer} />
        <Field name="name" label="Name" hint="As you call it." answer={answer} maxLength={60} required />
        <Field
          name="tare_grams"
          label="Empty weight in grams"
          hint="With the padding that always goes in."
          inputMode="numeric"
          autocomplete="off"
          answer={answer}
        />
        <InnerSize answer={answer} />
        <Holds shapes={shapes} answer={answer} />
        <div class="actions">
          <button type="submit">{size ? "Keep this" : "Add the box"}</button>
        </div>
      </Form>
      {size && (
        <Retirement
          action={action}
          name={size.name}
          retired={size.retiredAt !== null}
          meaning="It is not suggested any more."
        />
      )}
    </>
  );
}

function InnerSize({ answer }: { readonly answer: FormAnswer }) {
  const side = { inputMode: "numeric", autocomplete: "off", answer } as const;
  return (
    <fieldset>
      <legend>Inside, in millimetres</legend>
      <p class="hint">May stay empty: what goes in is said below.</p>
      <div class="fields even">
        <Field name="inner_length" label="Length" {...side} />
        <Field name="inner_width" label="Width" {...side} />
        <Field name="inner_height" label="Height" {...side} />
      </div>
    </fieldset>
  );
}

function Holds({ shapes, answer }: Pick<BoxSizePageProps, "shapes" | "answer">) {
  const known = typedList(answer, "holdsShape");
  return (
    <fieldset>
      <legend>How many pieces of one shape alone fill it</legend>
      <p class="hint">As you pack them, wrapped. Blank: they do not go into this box.</p>
      <div class="fields even">
        {shapes.map(({ id, name }, place) => {
          const field = `holds.${place}.units`;
          return (
            <div class="field" key={id}>
              <input type="hidden" name="holdsShape" value={id} />
              <label for={field}>{name}</label>
              <input
                id={field}
                name="holdsUnits"
                inputMode="numeric"
                autocomplete="off"
                value={typedList(answer, "holdsUnits")[known.indexOf(String(id))] ?? ""}
                {...marked(field, answer)}
              />
              <Mistake name={field} answer={answer} />
            </div>
          );
        })}
      </div>
    </fieldset>
  );
}
