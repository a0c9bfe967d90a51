import { dayWords, shortDayWords } from "../format/dates.ts";
import { counted, pieces, plainNumber, spelled, spelledCount, wholeWords } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { mostHeldWords } from "./lateWords.ts";
import type {
  HoldUpFigures,
  LateFigures,
  OrderFigures,
  PlanFigures,
  ResourceFigures,
} from "./planFigures.ts";

/** The answer of a plan in one sentence. */
export function planHeadline(
  { orders, fullest, holdUps }: Pick<PlanFigures, "orders" | "fullest" | "holdUps">,
  reasons: readonly LateFigures[] = [],
): string {
  const late = orders.filter(({ fate }) => fate === "late");
  const short = orders.filter(({ fate }) => fate === "short");
  if (late.length + short.length === 0) {
    return fullest === null
      ? "Everything ships on time, with molds to spare."
      : `Everything ships on time; ${dayWords(fullest.date)} is full to the last ${fullest.shape} mold.`;
  }
  const parts = [lateWords(late), shortWords(short)].filter((words) => words !== "");
  return sentence([parts.join(", and "), reasonInShort(holdUps, reasons)].filter(Boolean).join("; "));
}

/** What holds the workshop up, in a few words; where nobody asked what more would save, what is waited for. */
function reasonInShort({ resources, bottleneck }: HoldUpFigures, reasons: readonly LateFigures[]): string {
  if (resources.length === 0) return mostHeldWords(reasons);
  const words = bottleneck === null ? "" : holdUpWords(bottleneck);
  return words === "" ? "more of one thing alone would not help" : words;
}

/** What holds the whole plan up, in a sentence of its own. */
export function bottleneckWords({ bottleneck }: HoldUpFigures): string {
  if (bottleneck === null) return "Nothing is limited here.";
  const words = holdUpWords(bottleneck);
  if (words !== "") return sentence(words);
  return `More of one thing alone would save nothing. Fullest on average: ${resourceWords(bottleneck)}.`;
}

function resourceWords({ kind, shape }: ResourceFigures): string {
  return { moldSets: `${shape} molds`, trays: "trays", handMinutes: "hands", mixers: "mixers" }[kind];
}

/** The answer of the best plan while better ones are looked for. */
export function soFarHeadline(orders: readonly OrderFigures[]): string {
  const late = lateWords(orders.filter(({ fate }) => fate === "late"));
  const short = shortWords(orders.filter(({ fate }) => fate === "short"));
  const parts = [late, short].filter((words) => words !== "");
  return parts.length === 0 ? "So far everything ships on time." : sentence(`so far ${parts.join(", and ")}`);
}

function lateWords(late: readonly OrderFigures[]): string {
  const [worst] = late;
  if (worst === undefined) return "";
  const days = counted(worst.daysLate, "day");
  return late.length === 1
    ? `${worst.reference} will be late by ${days}`
    : `${spelled(late.length, "order")} will be late, ${worst.reference} by ${days}`;
}

function shortWords(short: readonly OrderFigures[]): string {
  const [worst] = [...short].sort((one, other) => other.unitsShort - one.unitsShort);
  if (worst === undefined) return "";
  return short.length === 1
    ? `${worst.reference} will lack ${pieces(worst.unitsShort)}`
    : `${spelledCount(short.length)} can't be filled, ${worst.reference} lacks ${pieces(worst.unitsShort)}`;
}

/** "Ball 60 molds hold you up: one set more saves 14 piece-days"; empty where more of it alone saves nothing. */
function holdUpWords(resource: ResourceFigures): string {
  const { oneMoreSaves, enough } = resource;
  if (oneMoreSaves > 0) {
    return `${whatHoldsUp(resource)}: ${stepsWords(resource, 1)} saves ${pieceDays(oneMoreSaves)}`;
  }
  if (enough === null || enough.saves === 0) return "";
  const verb = enough.more === 1 ? "saves" : "save";
  return `${whatHoldsUp(resource)}: ${stepsWords(resource, enough.more)} ${verb} ${pieceDays(enough.saves)}`;
}

function whatHoldsUp({ kind, shape, limit }: ResourceFigures): string {
  if (kind === "moldSets") return `${shape} molds hold you up`;
  if (kind === "trays") return "trays hold you up";
  if (kind === "handMinutes") return "hands hold you up";
  return limit === 1 ? "the mixer holds you up" : "the mixers hold you up";
}

/** "one set more", "an hour more in every session", "3 trays more". */
export function stepsWords({ kind }: ResourceFigures, steps: number): string {
  if (kind === "handMinutes") {
    return steps === 1 ? "an hour more in every session" : `${wholeWords(steps)} hours more in every session`;
  }
  const [one, many] = { moldSets: ["set", "sets"], trays: ["tray", "trays"], mixers: ["mixer", "mixers"] }[
    kind
  ];
  return steps === 1 ? `one ${one} more` : `${wholeWords(steps)} ${many} more`;
}

/** How good a plan is, in one sentence. */
export function qualityWords({ cost, bound }: Pick<PlanFigures, "cost" | "bound">): string {
  if (cost === 0) return "Nothing is late: no plan can be better on time.";
  if (cost - bound <= 1e-6 * cost) {
    return `Late by ${pieceDays(cost)} in all. This is proven best: no plan for these orders has less.`;
  }
  if (bound === 0) {
    return `Late by ${pieceDays(cost)} in all. Whether another plan could have less is not proven.`;
  }
  const percent = Math.ceil((cost / bound - 1) * 100 - 1e-9);
  return `Late by ${pieceDays(cost)} in all. No plan has less than ${pieceDays(bound)}: this one is at most ${wholeWords(percent)} % from the best possible.`;
}

/** "14 piece-days": one piece late by one day is one. */
export function pieceDays(amount: number): string {
  const rounded = Math.round(amount * 10) / 10;
  return Number.isInteger(rounded) ? counted(rounded, "piece-day") : `${plainNumber(rounded)} piece-days`;
}

export const fateWords = {
  safe: () => "safe",
  tight: () => "tight",
  late: ({ daysLate }: OrderFigures) => `late by ${counted(daysLate, "day")}`,
  short: ({ unitsShort }: OrderFigures) => `${wholeWords(unitsShort)} short`,
} as const;

/** Why an order is ready when it is: its last pieces, or what finds no place. */
export function reasonWords(order: OrderFigures, lastDate: string): string {
  const last = order.sources.at(-1);
  if (order.fate === "short") {
    const missing = `${pieces(order.unitsShort)} find no place`;
    return order.market
      ? `${missing} before the market.`
      : `${missing} before ${shortDayWords(lastDate)}, the last day planned.`;
  }
  if (last === undefined || last.from === "shelf") return "All of it is on the shelf.";
  const since = last.pressedOn === null ? "drying already" : `pressed ${shortDayWords(last.pressedOn)}`;
  const when = last.packedOn === null ? "" : `, packed ${shortDayWords(last.packedOn)}`;
  return `The last to come: ${wholeWords(last.units)} × ${last.product}, ${since}${when}.`;
}

export const stateWords = {
  proposed: "proposed",
  accepted: "followed now",
  superseded: "replaced",
} as const;
