import type { IngredientKind } from "./cautions.ts";
import { type DryingPart, dryTenThousandths } from "./drying.ts";

/** A part of a recipe; of a scent oil, what its supplier allows in the recipe's kind of product. */
export interface ScentedPart extends DryingPart {
  readonly kind: IngredientKind;
  /** Highest share of the finished piece, in parts per million of its weight; null: none has been entered. */
  readonly limitPpm: number | null;
}

export interface ScentVerdict {
  /** Which part of the recipe, from 0. */
  readonly place: number;
  /** Of the dry piece, in parts per million, rounded up. */
  readonly sharePpm: number;
  readonly limitPpm: number | null;
  /** "unknown": no limit has been entered, so nobody can tell. */
  readonly verdict: "within" | "above" | "unknown";
}

const MILLION = 1_000_000n;
const TEN_THOUSANDTHS = 10_000n;

/**
 * Each scent oil's share of the finished piece against its limit. The denominator is the dry weight: a certificate
 * speaks of the product as it is used, after alcohol and water have gone. The limit itself is still allowed (IFRA
 * certificates state a maximum).
 */
export function judgeScents(parts: readonly ScentedPart[]): readonly ScentVerdict[] {
  const dry = dryTenThousandths(parts);
  return parts.flatMap((part, place): readonly ScentVerdict[] => {
    if (part.kind !== "scent") return [];
    const scaled = BigInt(part.milligramsPerKilogram) * TEN_THOUSANDTHS * MILLION;
    const sharePpm = dry === 0n ? Number(MILLION) : Number((scaled + dry - 1n) / dry);
    const { limitPpm } = part;
    if (limitPpm === null) return [{ place, sharePpm, limitPpm, verdict: "unknown" }];
    return [{ place, sharePpm, limitPpm, verdict: sharePpm > limitPpm ? "above" : "within" }];
  });
}

/**
 * Whether several scent oils together use more than their limits, though each alone is within: they may hold the same
 * restricted stuff. No certificate speaks of it; a reason to ask the supplier (our own prudence, no source).
 */
export function limitsShared(verdicts: readonly ScentVerdict[]): boolean {
  const limited = verdicts.flatMap(({ sharePpm, limitPpm }) =>
    limitPpm === null || limitPpm === 0 ? [] : [sharePpm / limitPpm],
  );
  return limited.length > 1 && limited.reduce((sum, used) => sum + used, 0) > 1;
}
