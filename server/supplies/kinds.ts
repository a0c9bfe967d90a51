import { type IngredientKind, ingredientKinds } from "../recipes/cautions.ts";

/** What a supply is to the packing. */
export const packagingKinds = ["cup", "bag", "tie", "label", "box", "wrap"] as const;

export type PackagingKind = (typeof packagingKinds)[number];

export const supplyKinds = [...ingredientKinds, ...packagingKinds] as const;

export type SupplyKind = IngredientKind | PackagingKind;

/** Whether a supply is counted in pieces; everything else is weighed, in milligrams. */
export function isPackaging(kind: SupplyKind): kind is PackagingKind {
  return packagingKinds.some((known) => known === kind);
}
