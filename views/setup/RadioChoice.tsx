import type { ComponentChildren } from "preact";
import { Mistake } from "../components/Field.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";

interface RadioOption {
  readonly value: string;
  readonly label: ComponentChildren;
  /** What choosing it means, in plain words. */
  readonly meaning?: string;
}

/** One of a few, all of them in sight, each with what it means. */
export function RadioChoice({
  name,
  legend,
  options,
  answer,
}: {
  readonly name: string;
  readonly legend: string;
  readonly options: readonly RadioOption[];
  readonly answer: FormAnswer;
}) {
  const chosen = typedText(answer, name);
  return (
    <fieldset class="choices" aria-describedby={answer.mistakes[name] ? `${name}-mistake` : undefined}>
      <legend>{legend}</legend>
      <div class={options.some(({ meaning }) => meaning) ? "choices-list" : "choices-list brief"}>
        {options.map(({ value, label, meaning }) => (
          <label key={value} class="choice">
            <input type="radio" name={name} value={value} checked={value === chosen} />
            <span>
              {label}
              {meaning && <span class="hint">{meaning}</span>}
            </span>
          </label>
        ))}
      </div>
      <Mistake name={name} answer={answer} />
    </fieldset>
  );
}
