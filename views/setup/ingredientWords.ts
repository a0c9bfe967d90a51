import type { IngredientKind } from "../../server/recipes/cautions.ts";

/** What each kind of ingredient is called, in the order in which they are offered. */
export const kindWords: Readonly<Record<IngredientKind, string>> = {
  soda: "baking soda or another carbonate",
  acid: "acid",
  filler: "starch, salt, clay",
  surfactant: "foaming powder or liquid",
  colour: "colour",
  oil: "oil or butter",
  scent: "scent oil",
  solubiliser: "solubiliser",
  alcohol: "alcohol",
  water: "water",
  other: "something else",
};
