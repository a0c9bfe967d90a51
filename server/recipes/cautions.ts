/** What an ingredient is to the mix. */
export const ingredientKinds = [
  "soda",
  "acid",
  "filler",
  "surfactant",
  "colour",
  "oil",
  "scent",
  "solubiliser",
  "alcohol",
  "water",
  "other",
] as const;

export type IngredientKind = (typeof ingredientKinds)[number];

interface Marked {
  readonly kind: IngredientKind;
  /** Its dust irritates lungs and eyes. */
  readonly dusty: boolean;
  readonly flammable: boolean;
}

/** Ways in which a mix, or the pieces made of it, can hurt somebody. */
export const cautions = ["dust", "fire", "gas", "scent", "foam", "slips", "stains", "skin"] as const;

export type Caution = (typeof cautions)[number];

/**
 * The cautions that a recipe calls for by what is in it, in a fixed order. Acid makes gas with soda as soon as the mix
 * is damp; either alone does so with what lies about on the table, so each of them is enough. That a bath can irritate
 * sore skin holds for every piece.
 */
export function cautionsFor(ingredients: readonly Marked[]): readonly Caution[] {
  const has = (...kinds: readonly IngredientKind[]) => ingredients.some(({ kind }) => kinds.includes(kind));
  const called: Readonly<Record<Caution, boolean>> = {
    dust: ingredients.some(({ dusty }) => dusty) || has("surfactant", "acid"),
    fire: ingredients.some(({ flammable }) => flammable) || has("alcohol"),
    gas: has("acid", "soda"),
    scent: has("scent"),
    foam: has("surfactant"),
    slips: has("oil"),
    stains: has("colour"),
    skin: true,
  };
  return cautions.filter((caution) => called[caution]);
}
