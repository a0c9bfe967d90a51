import type { IngredientKind } from "./cautions.ts";
import type { Phase } from "./phases.ts";

const LIQUID: readonly IngredientKind[] = ["oil", "scent", "solubiliser", "alcohol", "water"];

/** When an ingredient of a kind is usually stirred in (common practice, no source). */
export function usualPhase(kind: IngredientKind): Phase {
  if (kind === "acid" || kind === "colour") return kind;
  return LIQUID.includes(kind) ? "liquid" : "dry";
}
