import type { ComponentChildren } from "preact";
import { type FormAnswer, typedText } from "./formAnswer.ts";

interface FieldProps {
  /** The form's name for it; also the key of its mistake. */
  readonly name: string;
  readonly label: string;
  /** What to give, in which unit, in a few words. */
  readonly hint?: string;
  readonly answer: FormAnswer;
}

/** What a one-line field may say of itself to the browser. */
interface InputOptions {
  readonly type?: "text" | "email" | "password" | "date" | "time" | "tel" | "color";
  readonly inputMode?: "numeric" | "decimal" | "text";
  readonly autocomplete?: string;
  readonly maxLength?: number;
  readonly minLength?: number;
  readonly required?: boolean;
  /** The id of a `datalist` that suggests values. */
  readonly list?: string;
}

/** One line to type in, with its label above, its hint, and its mistake when there is one. */
export function Field({ name, label, hint, answer, type = "text", ...options }: FieldProps & InputOptions) {
  return (
    <Labelled name={name} label={label} hint={hint} answer={answer}>
      <input
        id={name}
        name={name}
        type={type as "text"}
        value={typedText(answer, name)}
        {...describedBy(name, hint, answer)}
        {...options}
      />
    </Labelled>
  );
}

/** Several lines to type in. */
export function LongField({ name, label, hint, answer, rows = 3 }: FieldProps & { readonly rows?: number }) {
  return (
    <Labelled name={name} label={label} hint={hint} answer={answer}>
      <textarea id={name} name={name} rows={rows} {...describedBy(name, hint, answer)}>
        {typedText(answer, name)}
      </textarea>
    </Labelled>
  );
}

interface Choice {
  readonly value: string;
  readonly label: string;
}

/** One of a list. With `blank` the first choice is nothing, in those words. */
export function ChoiceField({
  name,
  label,
  hint,
  answer,
  choices,
  blank,
}: FieldProps & { readonly choices: readonly Choice[]; readonly blank?: string }) {
  const chosen = typedText(answer, name);
  return (
    <Labelled name={name} label={label} hint={hint} answer={answer}>
      <select id={name} name={name} {...describedBy(name, hint, answer)}>
        {blank !== undefined && <option value="">{blank}</option>}
        {choices.map(({ value, label: words }) => (
          <option key={value} value={value} selected={value === chosen}>
            {words}
          </option>
        ))}
      </select>
    </Labelled>
  );
}

/** A box to tick; sent as "yes" when ticked. */
export function TickField({ name, label, hint, answer }: FieldProps) {
  return (
    <div class="field tick">
      <label for={name}>
        <input
          type="checkbox"
          id={name}
          name={name}
          value="yes"
          checked={typedText(answer, name) === "yes"}
          {...describedBy(name, hint, answer)}
        />
        <span>{label}</span>
      </label>
      {hint && (
        <p class="hint" id={`${name}-hint`}>
          {hint}
        </p>
      )}
      <Mistake name={name} answer={answer} />
    </div>
  );
}

/** The sentence about the whole form, at its top. */
export function FormMistake({ answer }: { readonly answer: FormAnswer }) {
  const sentence =
    answer.mistakes[""] ??
    (Object.keys(answer.mistakes).length > 0 ? "Not taken yet: look at the fields marked below." : undefined);
  return sentence ? (
    <p class="mistake form-mistake" role="alert">
      {sentence}
    </p>
  ) : null;
}

/** What a field of a row says of its mistake, where there is one. */
export function marked(name: string, answer: FormAnswer) {
  return answer.mistakes[name] === undefined
    ? {}
    : { "aria-invalid": "true" as const, "aria-describedby": `${name}-mistake` };
}

/** The mistake of one field, where there is one. */
export function Mistake({ name, answer }: { readonly name: string; readonly answer: FormAnswer }) {
  const sentence = answer.mistakes[name];
  return sentence ? (
    <p class="mistake" id={`${name}-mistake`}>
      {sentence}
    </p>
  ) : null;
}

function Labelled({
  name,
  label,
  hint,
  answer,
  children,
}: {
  readonly name: string;
  readonly label: string;
  readonly hint: string | undefined;
  readonly answer: FormAnswer;
  readonly children: ComponentChildren;
}) {
  return (
    <div class="field">
      <label for={name}>{label}</label>
      {hint && (
        <p class="hint" id={`${name}-hint`}>
          {hint}
        </p>
      )}
      {children}
      <Mistake name={name} answer={answer} />
    </div>
  );
}

function describedBy(name: string, hint: string | undefined, answer: FormAnswer) {
  const wrong = answer.mistakes[name] !== undefined;
  const parts = [hint ? `${name}-hint` : "", wrong ? `${name}-mistake` : ""].filter((part) => part !== "");
  return {
    "aria-invalid": wrong ? ("true" as const) : undefined,
    "aria-describedby": parts.length > 0 ? parts.join(" ") : undefined,
  };
}
