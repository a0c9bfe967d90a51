import type { RecipeSheetProps } from "../../views/recipes/RecipeSheet.tsx";
import { cautionsFor } from "./cautions.ts";
import { dryMilligrams } from "./drying.ts";
import { inMixingOrder } from "./phases.ts";
import type { ShownPart } from "./queries.ts";
import { scaleTo } from "./scale.ts";
import { judgeScents, limitsShared } from "./scentLimits.ts";

/** One version of a recipe, weighed out: what its sheet shows. */
export function recipeSheet(
  version: { readonly version: number; readonly category: string },
  written: readonly ShownPart[],
  shapes: readonly { readonly id: number; readonly name: string; readonly pieceMilligrams: number }[],
  asked: { readonly mixMilligrams: number; readonly stepMilligrams: number; readonly inOunces: boolean },
): RecipeSheetProps {
  const parts = inMixingOrder(written);
  const scaled = scaleTo(
    parts.map(({ milligramsPerKilogram }) => milligramsPerKilogram),
    asked.mixMilligrams,
    asked.stepMilligrams,
  );
  const verdicts = judgeScents(parts);
  return {
    version: version.version,
    category: version.category,
    inOunces: asked.inOunces,
    wholeMilligrams: scaled.wholeMilligrams,
    dryMilligrams: dryMilligrams(parts, scaled.wholeMilligrams),
    parts: parts.map((part, place) => ({
      ...part,
      milligrams: scaled.partMilligrams[place] ?? 0,
    })),
    pieces: shapes.map(({ pieceMilligrams, ...shape }) => ({
      ...shape,
      mixMilligrams: pieceMilligrams,
      dryMilligrams: dryMilligrams(parts, pieceMilligrams),
    })),
    scents: verdicts.map(({ place, ...verdict }) => ({
      ...verdict,
      name: parts[place]?.name ?? "",
      source: parts[place]?.limitSource ?? null,
    })),
    limitsShared: limitsShared(verdicts),
    cautions: cautionsFor(parts),
  };
}
