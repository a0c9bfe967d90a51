import { shareWords } from "../../views/format/money.ts";
import { gramWords } from "../../views/format/quantities.ts";
import type { Mistake } from "../http/takeForm.ts";
import type { VersionRefusal } from "./reckonVersion.ts";

/** What to say of a version that cannot be kept, and beside which field. */
export function versionMistake(refusal: Exclude<VersionRefusal, { readonly kind: "not-found" }>): Mistake {
  switch (refusal.kind) {
    case "ingredient-unknown":
      return {
        field: `parts.${refusal.place}.supply`,
        sentence: "This ingredient is not in use any more: choose another, or bring it back.",
      };
    case "twice-in-a-step":
      return {
        field: `parts.${refusal.place}.supply`,
        sentence: "This ingredient is stirred in in the same step above already: add the two up.",
      };
    case "no-parts":
      return { field: "parts", sentence: "Nothing goes into the bowl yet: fill in a row." };
    case "density-unknown":
      return {
        field: `parts.${refusal.place}.amount`,
        sentence: "No density has been entered for it, and none is guessed: weigh it, or enter its density.",
      };
    case "too-little":
      return {
        field: `parts.${refusal.place}.amount`,
        sentence: "That is less than a milligram in a kilogram of mix: give more of it, or leave it out.",
      };
    case "no-room-for-weights":
      return {
        field: "parts",
        sentence: "The percentages alone make the whole, which leaves nothing for what stands in weights.",
      };
    case "does-not-add-up":
      return { field: "parts", sentence: sumSentence(refusal.missingMilligrams) };
    case "scent-above-limit": {
      const share = shareWords(Math.ceil(refusal.sharePpm / 100));
      return {
        field: `parts.${refusal.place}.amount`,
        sentence: `${refusal.name} would be ${share} of the dry piece; its supplier allows at most ${shareWords(refusal.limitPpm / 100)} (${refusal.source}). Take less of it.`,
      };
    }
  }
}

function sumSentence(missingMilligrams: number): string {
  const grams = gramWords(Math.abs(missingMilligrams));
  const found = missingMilligrams > 0 ? `${grams} are missing from` : `${grams} are too much for`;
  return `${found} a kilogram of mix. Or leave “written for” blank: the parts are then the whole.`;
}
