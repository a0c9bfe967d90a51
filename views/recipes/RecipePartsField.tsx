import type { AmountUnit } from "../../server/recipes/amounts.ts";
import { Mistake, marked } from "../components/Field.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { unitWords } from "./recipeWords.ts";

export interface IngredientChoice {
  readonly id: number;
  readonly name: string;
}

const units = Object.keys(unitWords) as readonly AmountUnit[];

const steps = [
  { value: "", label: "as usual" },
  { value: "dry", label: "dry" },
  { value: "colour", label: "colour" },
  { value: "liquid", label: "liquid" },
  { value: "acid", label: "acid" },
];

/**
 * The parts of a recipe, sent as four lists side by side. The button that adds one works without JavaScript: the server
 * answers with the same form and one row more. Rows left empty are not there.
 */
export function RecipePartsField({
  answer,
  ingredients,
}: {
  readonly answer: FormAnswer;
  readonly ingredients: readonly IngredientChoice[];
}) {
  const supplies = typedList(answer, "partSupply");
  const places = Array.from({ length: Math.max(supplies.length, 1) }, (_, place) => place);
  return (
    <fieldset class="recipe-parts">
      <legend>Parts</legend>
      <p class="hint">
        Empty rows do not count. Volumes are weighed by the ingredient's own density; per cent is of the whole
        mix. “As usual” stirs an ingredient in with its kind: dry, colour, liquid, and the acid last.
      </p>
      <Mistake name="parts" answer={answer} />
      {places.map((place) => (
        <PartFields key={place} place={place} answer={answer} ingredients={ingredients} />
      ))}
      <button type="submit" class="quiet" name="save" value="one-more-part" formnovalidate>
        One more part
      </button>
    </fieldset>
  );
}

function PartFields({
  place,
  answer,
  ingredients,
}: {
  readonly place: number;
  readonly answer: FormAnswer;
  readonly ingredients: readonly IngredientChoice[];
}) {
  const typed = (list: string) => typedList(answer, list)[place] ?? "";
  const names = {
    supply: `parts.${place}.supply`,
    amount: `parts.${place}.amount`,
    unit: `parts.${place}.unit`,
    phase: `parts.${place}.phase`,
  };
  return (
    <fieldset class="recipe-part" aria-label={`Part ${place + 1}`}>
      <Choice
        id={names.supply}
        name="partSupply"
        label="Ingredient"
        chosen={typed("partSupply")}
        choices={[
          { value: "", label: "Choose one" },
          ...ingredients.map(({ id, name }) => ({ value: String(id), label: name })),
        ]}
        answer={answer}
      />
      <div>
        <label for={names.amount}>Amount</label>
        <input
          id={names.amount}
          name="partAmount"
          inputMode="decimal"
          autocomplete="off"
          maxLength={14}
          value={typed("partAmount")}
          {...marked(names.amount, answer)}
        />
      </div>
      <Choice
        id={names.unit}
        name="partUnit"
        label="Unit"
        chosen={typed("partUnit") || "g"}
        choices={units.map((unit) => ({ value: unit, label: unitWords[unit] }))}
        answer={answer}
      />
      <Choice
        id={names.phase}
        name="partPhase"
        label="Stirred in"
        chosen={typed("partPhase")}
        choices={steps}
        answer={answer}
      />
      <div class="line-mistakes">
        {Object.values(names).map((name) => (
          <Mistake key={name} name={name} answer={answer} />
        ))}
      </div>
    </fieldset>
  );
}

function Choice({
  id,
  name,
  label,
  chosen,
  choices,
  answer,
}: {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly chosen: string;
  readonly choices: readonly { readonly value: string; readonly label: string }[];
  readonly answer: FormAnswer;
}) {
  return (
    <div>
      <label for={id}>{label}</label>
      <select id={id} name={name} {...marked(id, answer)}>
        {choices.map(({ value, label: words }) => (
          <option key={value} value={value} selected={value === chosen}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}
