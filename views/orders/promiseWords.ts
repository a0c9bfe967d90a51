import { dayWords } from "../format/dates.ts";
import { pieces, wholeWords } from "../format/quantities.ts";

/** What is used up, with the shape by its name. */
export type InTheWay =
  | { readonly resource: "moldSets"; readonly shape: string }
  | { readonly resource: "trays" | "handMinutes" | "mixers" };

/** When what is being typed can be promised, or why nothing can be said about it. */
export type Advice =
  | { readonly is: "nothing-typed" }
  | { readonly is: "none"; readonly why: NoAdvice }
  | GivenAdvice;

type NoAdvice =
  | "no-sessions"
  | "no-orders"
  | "nothing-made"
  | "over-midnight"
  | "too-large"
  | "planner-busy"
  | "planner-failed"
  | "asked-again";

export interface GivenAdvice {
  readonly is: "given";
  /** Earliest ship-by date with which nothing already promised moves; null where there is none up to `lastDate`. */
  readonly earliest: string | null;
  /** Whether not even an empty workshop could have it ready earlier. */
  readonly isFirstPossible: boolean;
  /** The last date there are sessions for. */
  readonly lastDate: string;
  readonly wished: string | null;
  /** Where the wished date can't be kept. */
  readonly instead: {
    readonly piecesByWished: number;
    /** Pieces to make in all. */
    readonly pieces: number;
    readonly restBy: string | null;
    readonly inTheWay: InTheWay | null;
  } | null;
  /** What the form carries back, so that the order can tell what was advised; null where that was nothing. */
  readonly carried: { readonly forLines: string; readonly at: Date; readonly seal: string } | null;
}

/** The answer in one sentence. */
export function adviceHeadline({ earliest, wished, instead, lastDate }: GivenAdvice): string {
  if (earliest === null && wished !== null && isBeyond(wished, lastDate))
    return `${dayWords(wished)} lies beyond the sessions planned so far: up to ${dayWords(lastDate)} no date is safe.`;
  if (earliest === null)
    return `No date up to ${dayWords(lastDate)} is safe: something already promised would have to move.`;
  if (isBeyond(wished, lastDate)) return `${dayWords(earliest)} is safe, and so is any later date.`;
  const unmoved = "with nothing already promised moving";
  if (wished === null) return `${dayWords(earliest)} is the earliest safe date, ${unmoved}.`;
  if (instead === null) return `${dayWords(wished)} can be kept, ${unmoved}.`;
  return `${dayWords(wished)} can't be kept safely; ${dayWords(earliest)} can, ${unmoved}.`;
}

/** What else there is to say, a sentence each. */
export function adviceDetails(advice: GivenAdvice): readonly string[] {
  const { earliest, wished, instead, isFirstPossible, lastDate } = advice;
  if (isBeyond(wished, lastDate)) return [];
  const details: string[] = [];
  if (instead !== null && wished !== null) details.push(...insteadWords(instead, wished));
  else if (earliest !== null && wished !== null && earliest < wished)
    details.push(`The earliest would be ${dayWords(earliest)}.`);
  if (earliest !== null && isFirstPossible)
    details.push("It could not be earlier even if nobody else had ordered anything.");
  return details;
}

function isBeyond(wished: string | null, lastDate: string): boolean {
  return wished !== null && wished > lastDate;
}

function insteadWords(instead: NonNullable<GivenAdvice["instead"]>, wished: string): readonly string[] {
  const { piecesByWished, restBy, inTheWay } = instead;
  const some =
    piecesByWished === 0
      ? `Nothing of it by ${dayWords(wished)}.`
      : `By ${dayWords(wished)} ${wholeWords(piecesByWished)} of ${pieces(instead.pieces)}${
          restBy === null ? "" : `, the rest by ${dayWords(restBy)}`
        }.`;
  return [some, ...(inTheWay === null ? [] : [`In the way: ${inTheWayWords(inTheWay)}.`])];
}

function inTheWayWords(inTheWay: InTheWay): string {
  switch (inTheWay.resource) {
    case "moldSets":
      return `the mold sets of ${inTheWay.shape}, all in use`;
    case "trays":
      return "the trays, all in use";
    case "handMinutes":
      return "hand time, all taken";
    case "mixers":
      return "the mixers, all taken";
  }
}

/** Why nothing can be said, and what to do. */
export function noAdviceWords(why: NoAdvice): string {
  switch (why) {
    case "no-sessions":
      return "There are no working sessions ahead: set them up, then dates can be promised.";
    case "nothing-made":
    case "no-orders":
      return "Nothing of this can be made: look at the products.";
    case "over-midnight":
    case "too-large":
      return "This is more than can be planned at once.";
    case "planner-busy":
      return "The planner has too much to do just now. Ask again in a moment.";
    case "planner-failed":
      return "The planner could not finish. Ask again.";
    case "asked-again":
      return "A newer question took the place of this one.";
  }
}

/** On the order's page: what was advised beside what was promised. */
export function advisedWords(advisedShipBy: string | null): string {
  return advisedShipBy === null ? "no safe date found" : dayWords(advisedShipBy, { year: true });
}
