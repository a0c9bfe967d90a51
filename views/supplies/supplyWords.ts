import type { SupplyUnit } from "../../server/supplies/amounts.ts";
import type { PackagingKind, SupplyKind } from "../../server/supplies/kinds.ts";
import type { OnHand, SupplyFacts, SupplyMove } from "../../server/supplies/ledgerQueries.ts";
import type { SupplyLossCause } from "../../server/supplies/loseSupply.ts";
import { daysBetween, dayWords } from "../format/dates.ts";
import { counted, gramWords, plainNumber, weightWords } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import { unitWords } from "../recipes/recipeWords.ts";
import { kindWords } from "../setup/ingredientWords.ts";

/** What each kind of packaging is called. */
export const packagingWords: Readonly<Record<PackagingKind, string>> = {
  cup: "paper cup",
  bag: "bag",
  tie: "tie or ribbon",
  label: "label",
  box: "box or carton",
  wrap: "something else around it",
};

export function isPackagingKind(kind: SupplyKind): kind is PackagingKind {
  return kind in packagingWords;
}

export function supplyKindWords(kind: SupplyKind): string {
  return isPackagingKind(kind) ? packagingWords[kind] : kindWords[kind];
}

/** "2.6 kg" or "120 pieces", from whole milligrams or pieces. */
export function supplyAmountWords(kind: SupplyKind, amount: number): string {
  return isPackagingKind(kind) ? counted(amount, "piece") : weightWords(amount);
}

/** The same in grams however many there are, as one counts. */
export function countedWords(kind: SupplyKind, amount: number): string {
  return isPackagingKind(kind) ? counted(amount, "piece") : gramWords(amount);
}

/** "+500 g" or "−12 pieces"; a count that agrees is "±0". */
export function signedAmountWords(kind: SupplyKind, amount: number): string {
  if (amount === 0) return "\u00b10";
  return `${amount < 0 ? "\u2212" : "+"}${supplyAmountWords(kind, Math.abs(amount))}`;
}

/** "grams" or "pieces": what a field of a count is typed in. */
export function countUnitWords(kind: SupplyKind): string {
  return isPackagingKind(kind) ? "pieces" : "grams";
}

/** "25 kg", "250 pieces": a pack as it was written. */
export function writtenWords(thousandths: number, unit: SupplyUnit): string {
  if (unit === "piece") return counted(thousandths / 1000, "piece");
  return `${plainNumber(thousandths / 1000)} ${unitWords[unit]}`;
}

export function supplyUnitWords(unit: SupplyUnit): string {
  return unit === "piece" ? "pieces" : unitWords[unit];
}

export const lossWords: Readonly<Record<SupplyLossCause, string>> = {
  spilled: "spilled or broken",
  spoiled: "spoiled: damp, lumpy, dirty",
  expired: "past its last good day",
  "sent-back": "sent back to the supplier",
};

/** What a move did, such as "used for Cedar" or "put right by a count". */
export function supplyMoveWords({ kind, amount, cause, blend, order, lot }: SupplyMove): string {
  const what = blend === null ? `packing ${order ?? ""}` : blend;
  switch (kind) {
    case "received":
      return "received";
    case "used":
      return `used for ${what}${lot === null ? ", beyond what the ledger had" : ""}`;
    case "unused":
      return `given back: not used for ${what} after all`;
    case "lost":
      return `lost, ${cause === null ? "" : lossWords[cause]}`;
    case "counted":
      if (blend !== null || order !== null) return `the count stands, whatever ${what} took`;
      if (lot === null) return "settled by a count: what was used beyond the ledger";
      return amount === 0 ? "counted: it agrees" : "put right by a count";
  }
}

/** From so many days before its last good day on, a lot is said to expire soon (common practice, no source). */
const SOON_DAYS = 30;

export interface SupplyMarkWords {
  readonly words: string;
  readonly urgent: boolean;
}

/** What there is to say of a supply at a glance; nothing where all is well. */
export function supplyMarks(supply: OnHand, today: string): readonly SupplyMarkWords[] {
  const {
    kind,
    counted: isCounted,
    onHand,
    beyond,
    expired,
    recalled,
    nextExpiry,
    leastOnHand,
    everReceived,
  } = supply;
  if (!isCounted) return [{ words: "not kept count of", urgent: false }];
  if (!everReceived && beyond === 0) return [{ words: "nothing entered yet", urgent: false }];
  const marks: SupplyMarkWords[] = [];
  if (beyond > 0) marks.push({ words: "count it", urgent: true });
  if (onHand === 0) marks.push({ words: "none left", urgent: true });
  else if (onHand < leastOnHand)
    marks.push({ words: `below ${supplyAmountWords(kind, leastOnHand)}`, urgent: true });
  if (recalled > 0) marks.push({ words: `${supplyAmountWords(kind, recalled)} recalled`, urgent: true });
  if (expired > 0) marks.push({ words: `${supplyAmountWords(kind, expired)} past its day`, urgent: true });
  if (nextExpiry !== null && daysBetween(today, nextExpiry) <= SOON_DAYS)
    marks.push({ words: "expires soon", urgent: false });
  return marks;
}

/** "14 supplies are on hand; count citric acid: more was used than the ledger had." */
export function onHandSentence(supplies: readonly OnHand[]): string {
  const kept = supplies.filter((supply) => supply.counted && supply.everReceived);
  if (supplies.length === 0) return "Nothing is bought here yet: add ingredients and packaging in the setup.";
  if (kept.length === 0) return "Nothing has been received yet: enter what is there, supply by supply.";
  const names = (some: readonly OnHand[]) => listed(some.slice(0, 3).map(({ name }) => name));
  const more = (some: readonly OnHand[]) => (some.length > 3 ? ` and ${some.length - 3} more` : "");
  const beyond = supplies.filter((supply) => supply.beyond > 0);
  const none = kept.filter(({ onHand, beyond: over }) => onHand === 0 && over === 0);
  const parts = [
    beyond.length > 0 ? `count ${names(beyond)}${more(beyond)}: more was used than the ledger had` : "",
    none.length > 0 ? `nothing is left of ${names(none)}${more(none)}` : "",
  ].filter((part) => part !== "");
  const held = `${counted(kept.length - none.length, "supply", "supplies")} on hand`;
  return `${[held, ...parts].join("; ")}.`;
}

/** "Citric acid: 12.5 kg on hand in 2 lots." */
export function supplySentence(
  { name, kind, beyond, counted: isCounted }: SupplyFacts,
  lots: readonly { readonly amount: number }[],
): string {
  if (!isCounted) return `${name}: nobody keeps count of it.`;
  const sum = lots.reduce((total, { amount }) => total + amount, 0);
  const there =
    lots.length === 0
      ? "nothing on hand"
      : `${supplyAmountWords(kind, sum)} on hand in ${counted(lots.length, "lot")}`;
  return beyond > 0 ? `${name}: ${there}; count it.` : `${name}: ${there}.`;
}

/** "good until Friday 5 March 2027", "past its day since …"; nothing where it does not expire. */
export function expiryWords(expiresOn: string | null, today: string): string {
  if (expiresOn === null) return "does not expire";
  const day = dayWords(expiresOn, { year: true });
  return expiresOn < today ? `past its last good day, ${day}` : `good until ${day}`;
}
