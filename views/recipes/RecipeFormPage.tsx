import { ChoiceField, Field, FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { gramWords } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import { type IngredientChoice, RecipePartsField } from "./RecipePartsField.tsx";
import { massUnitChoices } from "./recipeWords.ts";

interface Reckoned {
  readonly dryMilligramsPerKilogram: number;
  /** Scent oils without a limit. */
  readonly unlimited: readonly string[];
}

interface RecipeFormPageProps {
  readonly blend: BlendLook & { readonly id: number };
  readonly ingredients: readonly IngredientChoice[];
  readonly answer: FormAnswer;
  /** What the form comes to, where that was asked. */
  readonly reckoned: Reckoned | null;
}

/** A new version of a blend's recipe, beginning with the newest there is. */
export function RecipeFormPage({ blend, ingredients, answer, reckoned }: RecipeFormPageProps) {
  return (
    <>
      <p class="trail">
        <a href="/recipes">Recipes</a>
        {" · "}
        <a href={`/recipes/${blend.id}`}>{blend.name}</a>
      </p>
      <h1>
        <Swatch look={blend} />
        What goes into {blend.name} from now on?
      </h1>
      {ingredients.length === 0 && (
        <p class="notice">
          First <a href="/setup/ingredients/new">add the ingredients</a>.
        </p>
      )}
      <Form action={`/recipes/${blend.id}`}>
        <FormMistake answer={answer} />
        {reckoned && <ReckonedNotice reckoned={reckoned} />}
        <div class="fields even">
          <Field
            name="writtenFor"
            label="Written for so much mix"
            hint="The parts must add up to it. Blank: the parts are the whole."
            answer={answer}
            inputMode="decimal"
            autocomplete="off"
          />
          <ChoiceField name="writtenForUnit" label="Unit" answer={answer} choices={massUnitChoices} />
        </div>
        <RecipePartsField answer={answer} ingredients={ingredients} />
        <div class="fields even">
          <Field name="validFrom" label="Holds from" type="date" answer={answer} required />
          <Field
            name="category"
            label="Category of product"
            hint="As the scent oil's certificate numbers it; what goes into the bath is usually 9."
            answer={answer}
            maxLength={12}
            required
          />
        </div>
        <LongField name="note" label="Note" hint="How it is mixed, what changed." answer={answer} />
        <div class="actions">
          <button type="submit">Keep as a new version</button>
          <button type="submit" class="quiet" name="save" value="reckon">
            See what it adds up to
          </button>
        </div>
        <p class="hint">Versions before it stay as they are, and so does what was mixed by them.</p>
      </Form>
    </>
  );
}

function ReckonedNotice({
  reckoned: { dryMilligramsPerKilogram, unlimited },
}: {
  readonly reckoned: Reckoned;
}) {
  return (
    <div class="notice" role="status">
      <p>
        It adds up: a kilogram of mix dries to {gramWords(dryMilligramsPerKilogram)}. Nothing is kept yet.
      </p>
      {unlimited.length > 0 && (
        <p>
          <strong>No limit has been entered for {listed(unlimited)}</strong> in this category: nothing here
          says whether so much of it is safe.
        </p>
      )}
    </div>
  );
}
