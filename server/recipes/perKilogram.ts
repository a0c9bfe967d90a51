import { ok, type Result, refuse } from "../basics/result.ts";
import { apportion } from "../money/exactShares.ts";
import { type Amount, type Attograms, type MassUnit, massOf, weightOf } from "./amounts.ts";

/** A kilogram of mix in milligrams: what the parts of every recipe add up to. */
export const KILOGRAM = 1_000_000;

/** One part of a recipe as it was written down. */
export interface WrittenPart {
  readonly amount: Amount;
  /** Of its ingredient; null: not known. */
  readonly densityGramsPerLitre: number | null;
}

/** Why parts make no recipe; `place` counts the parts from 0. */
export type CompositionRefusal =
  | { readonly kind: "no-parts" }
  | { readonly kind: "density-unknown"; readonly place: number }
  /** Less than half a milligram in a kilogram of mix: written so, it would vanish. */
  | { readonly kind: "too-little"; readonly place: number }
  /** The percentages alone are the whole or more, and there are weights beside them. */
  | { readonly kind: "no-room-for-weights" }
  /** What a kilogram of mix lacks (positive) or has too much (negative), in milligrams, never 0. */
  | { readonly kind: "does-not-add-up"; readonly missingMilligrams: number };

/** A per cent is a thousand thousandths; the whole is a hundred of them. */
const WHOLE_IN_THOUSANDTHS = 100_000n;

/**
 * What a kilogram of mix has of each part, in whole milligrams that add up to the kilogram. The parts must make up
 * `writtenFor`; a difference that shows in no whole milligram of a kilogram is only how the amounts were written and
 * is shared by the largest remainders. Without `writtenFor` the parts are the whole by themselves: what stands in per
 * cent is so much of it, and the weights share the rest.
 */
export function perKilogram(
  parts: readonly WrittenPart[],
  writtenFor: Amount<MassUnit> | null,
): Result<readonly number[], CompositionRefusal> {
  if (parts.length === 0) return refuse({ kind: "no-parts" });
  const weights: (Attograms | null)[] = [];
  for (const [place, part] of parts.entries()) {
    const weight = weightOf(part.amount, part.densityGramsPerLitre);
    if (!weight.ok) return refuse({ kind: weight.refusal, place });
    weights.push(weight.value);
  }
  const shares = sharesOf(parts, weights, writtenFor === null ? null : massOf(writtenFor));
  if (shares === null) return refuse({ kind: "no-room-for-weights" });
  const missing = missingMilligrams(shares);
  if (missing !== 0) return refuse({ kind: "does-not-add-up", missingMilligrams: missing });
  const milligrams = apportion(BigInt(KILOGRAM), shares.parts).map(Number);
  const vanished = milligrams.indexOf(0);
  return vanished < 0 ? ok(milligrams) : refuse({ kind: "too-little", place: vanished });
}

/** Each part as an exact fraction: its own number over that of the whole. */
interface Shares {
  readonly parts: readonly bigint[];
  readonly whole: bigint;
}

function sharesOf(
  parts: readonly WrittenPart[],
  weights: readonly (Attograms | null)[],
  writtenFor: Attograms | null,
): Shares | null {
  const ofWhole = (place: number) => BigInt(parts[place]?.amount.thousandths ?? 0);
  const weighed = weights.reduce<bigint>((sum, weight) => sum + (weight ?? 0n), 0n);
  if (writtenFor !== null || weighed === 0n) {
    const whole = writtenFor ?? 1n;
    return {
      parts: weights.map((weight, place) =>
        weight === null ? ofWhole(place) * whole : weight * WHOLE_IN_THOUSANDTHS,
      ),
      whole: whole * WHOLE_IN_THOUSANDTHS,
    };
  }
  const inPercent = weights.reduce<bigint>(
    (sum, weight, place) => (weight === null ? sum + ofWhole(place) : sum),
    0n,
  );
  const left = WHOLE_IN_THOUSANDTHS - inPercent;
  if (left <= 0n) return null;
  return {
    parts: weights.map((weight, place) => (weight === null ? ofWhole(place) * weighed : weight * left)),
    whole: weighed * WHOLE_IN_THOUSANDTHS,
  };
}

/** To the nearest milligram in a kilogram of mix. */
function missingMilligrams({ parts, whole }: Shares): number {
  const missing = whole - parts.reduce((sum, part) => sum + part, 0n);
  const size = missing < 0n ? -missing : missing;
  const rounded = Number((2n * size * BigInt(KILOGRAM) + whole) / (2n * whole));
  return missing < 0n && rounded > 0 ? -rounded : rounded;
}
