import { ChoiceField, Field, FormMistake, LongField, TickField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { counted } from "../format/quantities.ts";
import { AllergensField } from "./AllergensField.tsx";
import { kindWords } from "./ingredientWords.ts";
import { Retirement } from "./Retirement.tsx";
import { ScentLimitsField } from "./ScentLimitsField.tsx";
import { SetupTrail } from "./SetupTrail.tsx";
import { StockFields } from "./StockFields.tsx";
import { SupplyLinks } from "./SupplyLinks.tsx";

interface KnownIngredient {
  readonly id: number;
  readonly name: string;
  /** Places in recipes that it stands at. */
  readonly recipes: number;
  readonly retiredAt: Date | null;
}

/** An ingredient to change, or a new one where none is given. */
export function IngredientPage({
  ingredient,
  answer,
}: {
  readonly ingredient: KnownIngredient | null;
  readonly answer: FormAnswer;
}) {
  const action = ingredient ? `/setup/ingredients/${ingredient.id}` : "/setup/ingredients";
  return (
    <>
      <SetupTrail list={{ href: "/setup/ingredients", name: "Ingredients" }} />
      <h1>
        {ingredient
          ? `${ingredient.name} stands in ${counted(ingredient.recipes, "recipe version")}.`
          : "A new ingredient: what is it, and what does its supplier state?"}
      </h1>
      <Form action={action}>
        <FormMistake answer={answer} />
        <div class="fields even">
          <Field name="name" label="Name" answer={answer} maxLength={120} required />
          <ChoiceField
            name="kind"
            label="What it is to the mix"
            answer={answer}
            blank="Choose one"
            choices={Object.entries(kindWords).map(([value, label]) => ({ value, label }))}
          />
          <Field
            name="labelName"
            label="Name on labels"
            hint="INCI, or as the law of the place asks."
            answer={answer}
            maxLength={200}
          />
          <Field
            name="evaporates"
            label="Evaporates, %"
            hint="100 for alcohol and water; blank for none."
            answer={answer}
            inputMode="decimal"
            autocomplete="off"
          />
        </div>
        <div class="fields even">
          <Field
            name="density"
            label="Density, grams per millilitre"
            hint="Needed for spoons and fluid ounces. Blank for powders: they are weighed."
            answer={answer}
            inputMode="decimal"
            autocomplete="off"
          />
          <Field
            name="densitySource"
            label="Where the density is from"
            hint="The supplier's sheet, a table, your own weighing."
            answer={answer}
            maxLength={200}
          />
        </div>
        <ScentLimitsField answer={answer} />
        <AllergensField answer={answer} />
        <TickField name="dusty" label="Its dust irritates lungs and eyes" answer={answer} />
        <TickField name="flammable" label="It burns, and so does its vapour" answer={answer} />
        <LongField
          name="statement"
          label="What the supplier states of it"
          hint="For a colour: in which uses it is permitted, and by which rule. Lot papers, storage."
          answer={answer}
        />
        <StockFields unit="grams" answer={answer} />
        <div class="actions">
          <button type="submit">{ingredient ? "Keep this" : "Add the ingredient"}</button>
        </div>
      </Form>
      {ingredient && <SupplyLinks supplyId={ingredient.id} />}
      {ingredient && (
        <Retirement
          action={action}
          name={ingredient.name}
          retired={ingredient.retiredAt !== null}
          meaning="No new recipe can use it; recipes that do stay as they are."
        />
      )}
    </>
  );
}
