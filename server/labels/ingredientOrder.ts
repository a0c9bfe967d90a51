import type { IngredientKind } from "../recipes/cautions.ts";
import type { Market } from "./markets.ts";

/** An ingredient of the mix, as it is weighed in. */
export interface LabelPart {
  /** As labels call it; what the workshop calls it where nobody knows. */
  readonly name: string;
  /** "allergen": one that the scents hold, named besides them. */
  readonly kind: IngredientKind | "allergen";
  readonly milligramsPerKilogram: number;
}

/**
 * The ingredients as a label lists them: by weight when they are added, heaviest first, colours at the end. The rules let
 * those of one per cent and less stand in any order behind the others, and colours in any order behind all (21 CFR 701.3(f);
 * Regulation (EC) 1223/2009, Article 19(1)(g), which the United Kingdom kept); by weight is always allowed, and says more.
 * Allergens of one per cent and less stand together behind the ingredients, since they are parts of the scents.
 */
export function inLabelOrder(parts: readonly LabelPart[], market: Market): readonly LabelPart[] {
  const byName = new Map<string, LabelPart>();
  for (const part of parts) {
    const name = nameOnLabel(part, market);
    // What is stirred in twice is named once.
    const milligramsPerKilogram = part.milligramsPerKilogram + (byName.get(name)?.milligramsPerKilogram ?? 0);
    byName.set(name, { ...part, name, milligramsPerKilogram });
  }
  return [...byName.values()].toSorted(
    (a, b) =>
      groupOf(a) - groupOf(b) ||
      b.milligramsPerKilogram - a.milligramsPerKilogram ||
      (a.name < b.name ? -1 : 1),
  );
}

/** One per cent: what weighs no more stands in any order behind what weighs more. */
const ONE_PER_CENT = 10_000;

function groupOf({ kind, milligramsPerKilogram }: LabelPart): number {
  if (kind === "colour") return 2;
  return kind === "allergen" && milligramsPerKilogram <= ONE_PER_CENT ? 1 : 0;
}

/**
 * Scents may be named as one: "fragrance" in the United States (21 CFR 701.3(a)), "parfum" in the European Union and the
 * United Kingdom (Article 19(1)(g)). Listed allergens in them are named besides.
 */
function nameOnLabel({ name, kind }: LabelPart, market: Market): string {
  if (kind !== "scent" || market === "none") return name;
  return market === "us" ? "Fragrance" : "Parfum";
}
