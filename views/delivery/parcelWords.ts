import { gramWords } from "../format/quantities.ts";
import { ounceWords } from "../recipes/recipeWords.ts";

/** A parcel as words name it. */
export interface NamedParcel {
  readonly carrier: string;
  readonly service: string;
  readonly grams: number | null;
  readonly tracking: string;
}

/** "Heron Post, overnight, 1 250 g (44.09 oz), HP 4711": what is known of it. */
export function parcelWords({ carrier, service, grams, tracking }: NamedParcel, inOunces: boolean): string {
  return (
    [carrier, service, parcelWeightWords(grams, inOunces), tracking]
      .filter((part) => part !== "")
      .join(", ") || "nothing more is known"
  );
}

/** "1 250 g", and in ounces where the shop sells in them; nothing where it was not weighed. */
export function parcelWeightWords(grams: number | null, inOunces: boolean): string {
  if (grams === null) return "";
  const milligrams = grams * 1000;
  return inOunces ? `${gramWords(milligrams)} (${ounceWords(milligrams)})` : gramWords(milligrams);
}
