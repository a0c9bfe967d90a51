import { counted, wholeWords } from "../format/quantities.ts";

export type DriesIn = "half" | "whole" | "none";

/** How a shape dries, as a column or a choice says it. */
export const dryingWords: Readonly<Record<DriesIn, string>> = {
  half: "lying in one half",
  whole: "closed in the whole set",
  none: "turned out at once",
};

/** What that means for the molds, in plain words. */
export const dryingMeanings: Readonly<Record<DriesIn, string>> = {
  half: "Released from one half, it dries lying in the other; halves of all sets fit each other. N sets of halves hold 2N-1 drying pieces: a press needs two free halves, and the last free one is for turning.",
  whole: "The closed set stays with the piece until it is dry. N sets hold N drying pieces.",
  none: "Pressed and turned out onto the tray. It holds no mold at all, only tray space.",
};

/** "24 sets hold 47 drying pieces"; places are null where drying holds no mold. */
export function placesWords(moldSets: number, places: number | null): string {
  if (places === null) return "no mold is held while it dries";
  if (moldSets === 0) return "no set: nothing can be pressed";
  return `${counted(moldSets, "set")} ${moldSets === 1 ? "holds" : "hold"} ${wholeWords(places)} drying ${places === 1 ? "piece" : "pieces"}`;
}
