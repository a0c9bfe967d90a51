import { StateMark } from "../components/StateMark.tsx";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { dayWords } from "../format/dates.ts";
import { counted, spelled } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";

interface RecipeRow {
  readonly id: number;
  readonly look: BlendLook;
  /** Null: no version holds today. */
  readonly version: number | null;
  readonly validFrom: string | null;
  readonly ingredients: number;
  readonly scent: "within" | "above" | "unknown";
}

/** Every blend and the version it is mixed by today. */
export function RecipesPage({
  recipes,
  owner,
}: {
  readonly recipes: readonly RecipeRow[];
  readonly owner: boolean;
}) {
  return (
    <>
      <h1>{recipesSentence(recipes)}</h1>
      {owner && (
        <p class="actions">
          <a class="button quiet" href="/setup/ingredients">
            Ingredients
          </a>
        </p>
      )}
      {recipes.length > 0 && (
        <table class="stack">
          <thead>
            <tr>
              <th scope="col">Blend, lightest first</th>
              <th scope="col">Recipe</th>
              <th scope="col">Scent oils</th>
            </tr>
          </thead>
          <tbody>
            {recipes.map((recipe) => (
              <tr key={recipe.id}>
                <th scope="row">
                  <Swatch look={recipe.look} />
                  <a href={`/recipes/${recipe.id}`}>{recipe.look.name}</a>
                </th>
                <td data-label="Recipe">{versionWords(recipe)}</td>
                <td data-label="Scent oils">
                  <ScentState recipe={recipe} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </>
  );
}

function recipesSentence(recipes: readonly RecipeRow[]): string {
  if (recipes.length === 0) return "There is no blend yet, and so no recipe.";
  const above = recipes.filter(({ scent }) => scent === "above");
  if (above.length > 0)
    return `Do not mix ${above.map(({ look }) => look.name).join(", ")}: more scent oil than its supplier allows.`;
  const without = recipes.filter(({ version }) => version === null).length;
  if (without === recipes.length) return "No blend has a recipe yet.";
  return without === 0
    ? "Every blend has its recipe."
    : sentence(`${spelled(without, "blend")} ${without === 1 ? "has" : "have"} no recipe yet`);
}

function versionWords({ version, validFrom, ingredients }: RecipeRow) {
  if (version === null || validFrom === null) return <StateMark words="none yet" />;
  return `version ${version} since ${dayWords(validFrom, { year: true })}, ${counted(ingredients, "ingredient")}`;
}

function ScentState({ recipe: { version, scent } }: { readonly recipe: RecipeRow }) {
  if (version === null) return null;
  if (scent === "above") return <StateMark words="above its limit" urgent />;
  if (scent === "unknown") return <StateMark words="no limit entered" urgent />;
  return <>within their limits</>;
}
