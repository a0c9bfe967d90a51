import type { Market } from "../../server/labels/markets.ts";

/** Where labels are looked over by the rules of. */
export const marketWords: Readonly<Record<Market, string>> = {
  us: "United States",
  eu: "European Union",
  uk: "United Kingdom",
  none: "none claimed",
};
