import { type Caution, cautionsFor } from "../recipes/cautions.ts";
import { inMixingOrder, type Phase } from "../recipes/phases.ts";
import { scaleTo } from "../recipes/scale.ts";
import type { Batch } from "./queries.ts";

/** A kitchen scale shows whole grams. */
const SCALE_MILLIGRAMS = 1_000;

export interface WeighedPart {
  /** Its place in the recipe, by which it is ticked off. */
  readonly place: number;
  readonly supplyId: number;
  readonly name: string;
  readonly phase: Phase;
  /** For one bowl; 0: too little for the scale. */
  readonly milligrams: number;
  /** The lots it is weighed from. */
  readonly lots: readonly string[];
}

export interface Weighed {
  /** What one bowl holds. */
  readonly bowlMilligrams: number;
  /** In mixing order; none where the blend has no recipe. */
  readonly parts: readonly WeighedPart[];
  readonly cautions: readonly Caution[];
}

/** What goes into each bowl of a run: the mix of its planned pieces, shared evenly among its bowls. */
export function weighOut({ parts: written, lots, bowls, weighedFrom }: Batch): Weighed {
  const mix = lots.reduce(
    (sum, { plannedUnits, pieceMilligrams }) => sum + plannedUnits * pieceMilligrams,
    0,
  );
  const parts = inMixingOrder(written.map((part, place) => ({ ...part, place })));
  const bowlMilligrams = Math.round(mix / bowls);
  if (parts.length === 0) return { bowlMilligrams, parts: [], cautions: [] };
  const scaled = scaleTo(
    parts.map(({ milligramsPerKilogram }) => milligramsPerKilogram),
    bowlMilligrams,
    SCALE_MILLIGRAMS,
  );
  return {
    bowlMilligrams: scaled.wholeMilligrams,
    parts: parts.map(({ place, supplyId, name, phase }, at) => ({
      ...{ place, supplyId, name, phase },
      milligrams: scaled.partMilligrams[at] ?? 0,
      lots: weighedFrom.get(supplyId) ?? [],
    })),
    cautions: cautionsFor(parts),
  };
}
