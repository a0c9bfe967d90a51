import { moneyWords } from "../format/money.ts";
import { counted, spelled, spelledCount, wholeWords } from "../format/quantities.ts";

interface Past {
  readonly markets: number;
  readonly leastSold: number;
  readonly mostSold: number;
  readonly soldOut: number;
}

/** What a line of reasoning is made of. */
export interface Reasoning {
  readonly takeUnits: number | null;
  readonly basis: "own" | "shape" | "blend" | "all" | "nothing";
  readonly own: Past | null;
  readonly family: Past | null;
  readonly ratio: number;
}

/** "sold 18 to 25 in five markets, sold out twice: take 27": why so many, in one line. */
export function reasonWords(
  { takeUnits, basis, own, family, ratio }: Reasoning,
  names: { readonly shape: string; readonly blend: string },
): string {
  if (basis === "nothing") return "nothing was ever taken to a market like this: no number to give";
  const others = family && `${familyWords(basis, names)} ${rangeWords(family)}`;
  const parts = own ? [ownWords(own), others] : ["never taken", others];
  const past = parts.filter((part) => part !== null).join("; ");
  if (ratio === 0) return `${past}; it earns nothing here: take none`;
  return `${past}: ${own ? "take" : "to try it, take"} ${wholeWords(takeUnits ?? 0)}`;
}

function ownWords(past: Past): string {
  return `${rangeWords(past)} in ${spelled(past.markets, "market")}${soldOutPart(past)}`;
}

/** "sold 18 to 25". */
function rangeWords({ leastSold, mostSold }: Past): string {
  if (mostSold === 0) return "sold none";
  return leastSold === mostSold
    ? `sold ${wholeWords(leastSold)}`
    : `sold ${wholeWords(leastSold)} to ${wholeWords(mostSold)}`;
}

function soldOutPart({ soldOut, markets }: Past): string {
  if (soldOut === 0) return "";
  if (markets > 1 && soldOut === markets) return ", sold out every time";
  if (soldOut === 1) return markets === 1 ? ", sold out" : ", sold out once";
  return soldOut === 2 ? ", sold out twice" : `, sold out ${spelledCount(soldOut)} times`;
}

/** The others it was measured by: with no past of its own the basis names them, else those of its shape do. */
function familyWords(
  basis: Reasoning["basis"],
  names: { readonly shape: string; readonly blend: string },
): string {
  switch (basis) {
    case "shape":
      return `others of ${names.shape}`;
    case "blend":
      return `others in ${names.blend}`;
    default:
      return "others like it";
  }
}

/** "Earns €2.40 when it sells, loses €0.60 when it comes home." */
export function marginWords(
  money: { readonly earnsMinor: number; readonly losesMinor: number } | null,
  currency: string,
): string {
  if (money === null)
    return "Has no price, so the workshop's usual shares weigh a sale against a piece left over.";
  const loses = money.losesMinor === 0 ? "loses nothing" : `loses ${moneyWords(money.losesMinor, currency)}`;
  return money.earnsMinor <= 0
    ? `Costs as much to make as it brings here, and ${loses} when it comes home.`
    : `Earns ${moneyWords(money.earnsMinor, currency)} when it sells, ${loses} when it comes home.`;
}

/** Which markets the numbers rest on. */
export function learnedWords(learned: {
  readonly from: "kind" | "customer" | "all";
  readonly markets: number;
  readonly kind: string;
}): string {
  if (learned.markets === 0)
    return "No market has been counted yet, so there is nothing to learn from. Give the numbers yourself.";
  const latest = counted(learned.markets, "market");
  switch (learned.from) {
    case "kind":
      return `Learned from the latest ${latest} of the kind "${learned.kind}".`;
    case "customer":
      return `Learned from the latest ${latest} here.`;
    case "all":
      return `Nothing like it has been counted yet: learned from the latest ${latest} of any kind.`;
  }
}
