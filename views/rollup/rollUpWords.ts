import type { LeftOver, Sums } from "../../server/rollup/rollUp.ts";
import { counted, weightWords, wholeWords } from "../format/quantities.ts";

/** "412 on order = 96 on the shelf + 60 drying + 256 to make": a sum that can be checked by eye. */
export function equation({ onOrder, fromShelf, fromDrying, toMake }: Sums): string {
  const [ordered, shelf, drying, make] = [onOrder, fromShelf, fromDrying, toMake].map(wholeWords);
  return `${ordered} on order = ${shelf} on the shelf + ${drying} drying + ${make} to make`;
}

/** "at least 3 bowls, 7.1 kg of mix". */
export function mixWords(milligrams: number, bowls: number): string {
  return `at least ${counted(bowls, "bowl")}, ${weightWords(milligrams)} of mix`;
}

/** "12 on the shelf, 4 planned", or "nothing". */
export function leftWords({ shelf, drying, planned }: LeftOver): string {
  const parts = [
    shelf > 0 ? `${wholeWords(shelf)} on the shelf` : "",
    drying > 0 ? `${wholeWords(drying)} drying` : "",
    planned > 0 ? `${wholeWords(planned)} planned` : "",
  ].filter((part) => part !== "");
  return parts.length > 0 ? parts.join(", ") : "nothing";
}
