import type { IngredientKind } from "../../server/recipes/cautions.ts";
import { StateMark } from "../components/StateMark.tsx";
import { shareWords } from "../format/money.ts";
import { counted, plainNumber } from "../format/quantities.ts";
import { kindWords } from "./ingredientWords.ts";
import { SetupList } from "./SetupList.tsx";

interface IngredientRow {
  readonly id: number;
  readonly name: string;
  readonly kind: IngredientKind;
  readonly labelName: string;
  readonly densityGramsPerLitre: number | null;
  readonly evaporatesBasisPoints: number;
  /** Categories for which the supplier's limit is entered. */
  readonly limits: number;
  readonly retiredAt: Date | null;
}

/** Everything that goes into bowls, and what is not yet known of it. */
export function IngredientsPage({ ingredients }: { readonly ingredients: readonly IngredientRow[] }) {
  return (
    <SetupList
      sentence={ingredientsSentence(ingredients.filter(({ retiredAt }) => retiredAt === null))}
      rows={ingredients}
      noun="ingredient"
      addHref="/setup/ingredients/new"
      Table={IngredientsTable}
    />
  );
}

function ingredientsSentence(ingredients: readonly IngredientRow[]): string {
  if (ingredients.length === 0) return "There is no ingredient yet: add what goes into your bowls.";
  const unlimited = ingredients.filter(withoutLimit).length;
  return unlimited === 0
    ? `${counted(ingredients.length, "ingredient")} can go into a bowl.`
    : `${counted(ingredients.length, "ingredient")} can go into a bowl; no limit has been entered for ${counted(unlimited, "scent oil")}.`;
}

function withoutLimit({ kind, limits }: IngredientRow): boolean {
  return kind === "scent" && limits === 0;
}

function IngredientsTable({ rows }: { readonly rows: readonly IngredientRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Ingredient</th>
          <th scope="col">Kind</th>
          <th scope="col">On labels</th>
          <th scope="col" class="number">
            Density, g/ml
          </th>
          <th scope="col" class="number">
            Evaporates
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.id}>
            <th scope="row">
              <a href={`/setup/ingredients/${row.id}`}>{row.name}</a>{" "}
              {withoutLimit(row) && <StateMark words="no limit entered" urgent />}
            </th>
            <td data-label="Kind">{kindWords[row.kind]}</td>
            <td data-label="On labels">{row.labelName === "" ? "not known" : row.labelName}</td>
            <td data-label="Density, g/ml" class="number">
              {row.densityGramsPerLitre === null ? "weigh it" : plainNumber(row.densityGramsPerLitre / 1000)}
            </td>
            <td data-label="Evaporates" class="number">
              {row.evaporatesBasisPoints === 0 ? "no" : shareWords(row.evaporatesBasisPoints)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
