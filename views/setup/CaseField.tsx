import { Mistake } from "../components/Field.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";

/** So many pieces of a shape in a case. */
export function CaseField({
  shape,
  place,
  group,
  hint,
  answer,
}: {
  readonly shape: { readonly id: number; readonly name: string };
  readonly place: number;
  /** What the form's mistakes call the cases. */
  readonly group: "cases" | "casePacks";
  readonly hint: string;
  readonly answer: FormAnswer;
}) {
  const name = `${group}.${place}.units`;
  const at = typedList(answer, "caseShape").indexOf(String(shape.id));
  const wrong = answer.mistakes[name] !== undefined;
  return (
    <div class="field">
      <input type="hidden" name="caseShape" value={shape.id} />
      <label for={name}>{shape.name}, pieces in a case</label>
      <p class="hint" id={`${name}-hint`}>
        {hint}
      </p>
      <input
        id={name}
        name="caseUnits"
        inputMode="numeric"
        autocomplete="off"
        value={typedList(answer, "caseUnits")[at] ?? ""}
        aria-invalid={wrong ? "true" : undefined}
        aria-describedby={wrong ? `${name}-hint ${name}-mistake` : `${name}-hint`}
      />
      <Mistake name={name} answer={answer} />
    </div>
  );
}
