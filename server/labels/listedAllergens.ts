import { type DryingPart, dryTenThousandths } from "../recipes/drying.ts";
import type { Market } from "./markets.ts";

/** An ingredient of a mix with what its supplier states of listed allergens. */
interface StatedPart extends DryingPart {
  readonly name: string;
  readonly kind: string;
  /** In parts per million of the ingredient; null: no statement has been entered. */
  readonly allergens: readonly { readonly name: string; readonly sharePpm: number }[] | null;
}

/** An allergen that has to be named, and how much of it is in a kilogram of mix. */
export interface ListedAllergen {
  readonly name: string;
  readonly milligramsPerKilogram: number;
}

/** What has to be named besides the ingredients, and of what nobody can tell. */
export interface AllergensFound {
  /** The most there is of first. */
  readonly toName: readonly ListedAllergen[];
  /** Scents, by the workshop's names, of which no statement has been entered. */
  readonly unstated: readonly string[];
}

const MILLION = 1_000_000;
/** In a ten-thousandth of a milligram are so many millionths of one. */
const MILLIONTHS = 100n;
/** 0.01 per cent, as one in so many. */
const ONE_IN = 10_000n;

/**
 * Listed allergens above 0.01 per cent of the dry piece, all ingredients' together; exactly so much is not above.
 * What goes into the bath is rinsed off: Regulation (EC) 1223/2009, Annex III, as Regulation (EU) 2023/1545 has it.
 * Of an ingredient that evaporates the allergens are reckoned to stay. Null where no market asks for them.
 */
export function listedAllergens(parts: readonly StatedPart[], market: Market): AllergensFound | null {
  if (market !== "eu" && market !== "uk") return null;
  const dry = dryTenThousandths(parts);
  const isAbove = (millionths: bigint) => millionths * ONE_IN > dry * MILLIONTHS;
  const toName = [...inMillionths(parts).values()]
    .filter(({ millionths }) => isAbove(millionths))
    .toSorted((a, b) => Number(b.millionths - a.millionths) || (a.name < b.name ? -1 : 1))
    .map(({ name, millionths }) => ({ name, milligramsPerKilogram: Number(millionths) / MILLION }));
  const unstated = parts.filter(({ kind, allergens }) => kind === "scent" && allergens === null);
  return { toName, unstated: [...new Set(unstated.map(({ name }) => name))] };
}

/** How much of each is in a kilogram of mix, in millionths of a milligram; suppliers write the same name differently. */
function inMillionths(parts: readonly StatedPart[]) {
  const sums = new Map<string, { readonly name: string; readonly millionths: bigint }>();
  for (const { milligramsPerKilogram, allergens } of parts)
    for (const { name, sharePpm } of allergens ?? []) {
      const key = name.toLowerCase();
      const before = sums.get(key) ?? { name, millionths: 0n };
      const millionths = before.millionths + BigInt(milligramsPerKilogram) * BigInt(sharePpm);
      sums.set(key, { name: before.name, millionths });
    }
  return sums;
}
