import { Field, Mistake } from "../components/Field.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";

/** Rows that are there to be filled in beside those that are known. */
const SPARE_ROWS = 2;

/**
 * How much of a scent oil the finished product may hold, by category: two lists side by side, `limitCategory` and
 * `limitShare`. Rows without a share do not count.
 */
export function ScentLimitsField({ answer }: { readonly answer: FormAnswer }) {
  const categories = typedList(answer, "limitCategory");
  const shares = typedList(answer, "limitShare");
  const filled = shares.filter((share) => share !== "").length;
  const rows = Array.from({ length: Math.max(shares.length, filled + SPARE_ROWS) }, (_, place) => place);
  return (
    <fieldset class="limits">
      <legend>Scent oils: the most a finished piece may hold</legend>
      <p class="hint">
        As the supplier certifies it, in per cent of the dry piece, for each category of product. What goes
        into the bath is usually category 9; the certificate says so. A recipe above it is refused.
      </p>
      <Mistake name="limits" answer={answer} />
      {rows.map((place) => (
        <div key={place} class="limit-row">
          <LimitInput
            name="limitCategory"
            id={`limits.${place}.category`}
            label="Category"
            value={categories[place] ?? (place === 0 && filled === 0 ? "9" : "")}
            answer={answer}
          />
          <LimitInput
            name="limitShare"
            id={`limits.${place}.share`}
            label="At most, %"
            value={shares[place] ?? ""}
            answer={answer}
          />
        </div>
      ))}
      <Field
        name="limitSource"
        label="Which certificate states it"
        hint="Supplier, number, date."
        answer={answer}
        maxLength={200}
      />
    </fieldset>
  );
}

function LimitInput({
  name,
  id,
  label,
  value,
  answer,
}: {
  readonly name: "limitCategory" | "limitShare";
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly answer: FormAnswer;
}) {
  const wrong = answer.mistakes[id] !== undefined;
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        value={value}
        inputMode={name === "limitShare" ? "decimal" : "text"}
        autocomplete="off"
        maxLength={12}
        aria-invalid={wrong ? "true" : undefined}
        aria-describedby={wrong ? `${id}-mistake` : undefined}
      />
      <Mistake name={id} answer={answer} />
    </div>
  );
}
