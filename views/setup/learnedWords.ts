import type { LearnedFigures, LearnedLosses, LearnedPressing } from "../../server/learning/queries.ts";
import { plainShare, shareWords } from "../format/money.ts";
import { counted, pieces, plainNumber, spelled, wholeWords } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";

/** With fewer batches than these a figure is shown, but not put forward. */
const FEWEST_BATCHES = 3;

/** A rate that the batches put forward, in basis points to a tenth of a per cent; null where they say too little. */
export function suggestedLoss({ learned, lossBasisPoints }: LearnedLosses): number | null {
  if (learned === null || learned.batches < FEWEST_BATCHES) return null;
  const rate = Math.min(5_000, Math.round(learned.share * 1_000) * 10);
  return rate === lossBasisPoints ? null : rate;
}

/** Seconds that the runs put forward, to a whole second; null where they say too little. */
export function suggestedSeconds({ learned, formSeconds }: LearnedPressing): number | null {
  if (learned === null || learned.batches < FEWEST_BATCHES) return null;
  const seconds = Math.round(learned.mean);
  return seconds === formSeconds ? null : seconds;
}

/** The page's answer: which figures batches and plan disagree about, beyond what chance would explain. */
export function learnedHeadline({ losses, pressing }: LearnedFigures): string {
  const taught = [...losses, ...pressing].filter(({ learned }) => learned !== null);
  if (taught.length === 0) return "No batch has taught anything yet.";
  const apart = losses.filter(isLossApart).length + pressing.filter(isPressingApart).length;
  return apart === 0
    ? "Batches come out as the plan counts on."
    : `${spelled(apart, "figure")} of the plan ${apart === 1 ? "is" : "are"} not what batches say.`;
}

/** Whether what the plan expects lies outside the spread. */
function isLossApart({ learned, lossBasisPoints }: LearnedLosses): boolean {
  const share = lossBasisPoints / 10_000;
  return learned !== null && learned.batches >= FEWEST_BATCHES && isOutside(share, learned);
}

function isPressingApart({ learned, formSeconds }: LearnedPressing): boolean {
  return learned !== null && learned.batches >= FEWEST_BATCHES && isOutside(formSeconds, learned);
}

function isOutside(value: number, { low, high }: { readonly low: number; readonly high: number }): boolean {
  return value < low || value > high;
}

/** "4.2 % lost, 2.1 to 8 % nine times in ten; 12 batches, 431 pieces". */
export function lossWords({ learned }: LearnedLosses): string {
  if (learned === null) return "no batch is ready yet";
  const { share, low, high, batches, pressed } = learned;
  const percent = (part: number) => plainShare(Math.round(part * 1_000) * 10);
  return `${shareWords(Math.round(share * 1_000) * 10)} lost, nine times in ten ${percent(low)} to ${percent(high)}\u202f%; ${counted(batches, "batch", "batches")}, ${pieces(pressed)}`;
}

const causeNames = { cracked: "cracked", stuck: "stuck", swollen: "swollen", sample: "kept as sample" };

/** "8 cracked and 5 stuck"; nothing where nothing was lost. */
export function causeWords({ causes }: LearnedLosses): string {
  const named = (Object.keys(causeNames) as (keyof typeof causeNames)[])
    .filter((cause) => causes[cause] > 0)
    .map((cause) => `${wholeWords(causes[cause])} ${causeNames[cause]}`);
  return listed(named);
}

/** "55 s a piece, nine times in ten 51 to 59 s; 12 runs". */
export function pressingWords(learned: LearnedPressing["learned"]): string {
  if (learned === null) return "fewer than two runs tell";
  const { mean, low, high, batches } = learned;
  const seconds = (value: number) => plainNumber(Math.round(value));
  return `${seconds(mean)} s a piece, nine times in ten ${seconds(low)} to ${seconds(high)} s; ${counted(batches, "run")}`;
}
