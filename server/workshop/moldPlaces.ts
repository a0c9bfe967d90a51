/**
 * How many drying pieces the mold sets of a shape hold at once; null where drying holds no mold. With halves a press
 * needs two free ones, a dried-in piece keeps one, and the last free half serves for turning: N sets hold 2N - 1.
 */
export function moldPlaces(driesIn: "half" | "whole" | "none", moldSets: number): number | null {
  if (driesIn === "none") return null;
  if (driesIn === "whole" || moldSets === 0) return moldSets;
  return 2 * moldSets - 1;
}
