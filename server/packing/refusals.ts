import { pieces, wholeWords } from "../../views/format/quantities.ts";
import { stoppedWords } from "../../views/holds/stopWords.ts";
import type { StoppedLot } from "../holds/stops.ts";
import type { OrderState } from "../orders/order.ts";

/** What somebody took since the page was made. */
export interface Taken {
  readonly name: string;
  readonly units: number;
}

/** What a lot is before it may be packed, or instead. */
export type UnreadyState = "planned" | "mixing" | "drying" | "resting" | "withdrawn";

/** Why packing, unpacking or marking as packed was refused, with the numbers as they stand now. */
export type PackingRefusal =
  | { readonly why: "no-such-order" | "no-such-line" | "nothing-chosen" | "nothing-packed" }
  | { readonly why: "wrong-state"; readonly reference: string; readonly state: OrderState }
  | { readonly why: "lot-unfit"; readonly lotCode: string | null }
  | { readonly why: "no-such-lot-code" | "lot-empty"; readonly lotCode: string }
  | { readonly why: "lot-not-ready"; readonly lotCode: string; readonly state: UnreadyState }
  | {
      readonly why: "not-asked-for";
      readonly lotCode: string;
      readonly product: string;
      readonly reference: string;
    }
  | { readonly why: "line-full"; readonly product: string; readonly ordered: number }
  | { readonly why: "line-over"; readonly left: number; readonly taken: readonly Taken[] }
  | {
      readonly why: "lot-short";
      readonly lotCode: string;
      readonly left: number;
      readonly taken: readonly Taken[];
    }
  | ({ readonly why: "lot-stopped" } & StoppedLot)
  | {
      readonly why: "lot-kept";
      readonly lotCode: string;
      readonly free: number;
      readonly others: readonly { readonly reference: string; readonly units: number }[];
    }
  | {
      readonly why: "not-in-the-box";
      readonly lotCode: string;
      readonly inTheBox: number;
      readonly shipped: number;
    }
  | { readonly why: "not-full"; readonly left: number; readonly mayLeaveShort: boolean };

/** The refusal in one sentence for the packer. */
export function packingRefusalWords(refusal: PackingRefusal): string {
  switch (refusal.why) {
    case "no-such-order":
      return "There is no such order.";
    case "no-such-line":
      return "This order has no such line any more.";
    case "nothing-chosen":
      return "Choose a lot and how many pieces to take.";
    case "nothing-packed":
      return "Nothing is packed for this order yet.";
    case "wrong-state":
      return wrongStateWords(refusal.reference, refusal.state);
    case "lot-unfit":
      return refusal.lotCode === null
        ? "There is no such lot."
        : `Lot ${refusal.lotCode} cannot be packed here: it is another product or not ready.`;
    case "no-such-lot-code":
      return `No lot has the code ${refusal.lotCode}.`;
    case "lot-empty":
      return `Nothing of lot ${refusal.lotCode} is left on the shelf.`;
    case "lot-not-ready":
      return `Lot ${refusal.lotCode} ${unreadyWords[refusal.state]}.`;
    case "not-asked-for":
      return `Lot ${refusal.lotCode} is ${refusal.product}, which ${refusal.reference} does not ask for.`;
    case "line-full":
      return `All ${wholeWords(refusal.ordered)} of ${refusal.product} are packed already.`;
    case "line-over":
      return `${leftWords(refusal.left, pieces(refusal.left))} left to pack on this line${takenWords(refusal.taken)}.`;
    case "lot-short":
      return `${leftWords(refusal.left, String(refusal.left), ` of lot ${refusal.lotCode}`)} left${takenWords(refusal.taken)}.`;
    case "lot-stopped":
      return stoppedWords(refusal.code, refusal.stop);
    case "lot-kept":
      return `${leftWords(refusal.free, String(refusal.free), ` of lot ${refusal.lotCode}`)} free: ${keptWords(refusal.others)}.`;
    case "not-in-the-box":
      return notInTheBoxWords(refusal.lotCode, refusal.inTheBox, refusal.shipped);
    case "not-full":
      return notFullWords(refusal.left, refusal.mayLeaveShort);
  }
}

/** Whether the world moved on since the page was made, rather than something wrong being typed. */
export function isClash(refusal: PackingRefusal): boolean {
  if (refusal.why === "line-over" || refusal.why === "lot-short") return refusal.taken.length > 0;
  return ["wrong-state", "no-such-line", "lot-stopped", "lot-kept"].includes(refusal.why);
}

const unreadyWords: Readonly<Record<UnreadyState, string>> = {
  planned: "is not pressed yet",
  mixing: "is only being pressed",
  drying: "still dries and may not be packed yet",
  resting: "still rests and may not be packed yet",
  withdrawn: "was never pressed",
};

function wrongStateWords(reference: string, state: OrderState): string {
  switch (state) {
    case "draft":
      return `${reference} is a draft: it can be packed once it is confirmed.`;
    case "cancelled":
      return `${reference} is cancelled; nothing more is packed for it.`;
    case "shipped":
    case "delivered":
      return `${reference} has left the workshop; its box cannot be changed any more.`;
    case "packed":
      return `${reference} is marked as packed already.`;
    case "confirmed":
    case "packing":
      return `${reference} is not packed yet.`;
  }
}

function notInTheBoxWords(lotCode: string, inTheBox: number, shipped: number): string {
  const can =
    inTheBox === 0
      ? `Nothing of lot ${lotCode} is in this box`
      : `Only ${inTheBox} of lot ${lotCode} can be taken out`;
  return shipped > 0 ? `${can}; ${shipped} ${shipped === 1 ? "has" : "have"} left the workshop.` : `${can}.`;
}

function notFullWords(left: number, mayLeaveShort: boolean): string {
  const missing = `${pieces(left)} ${left === 1 ? "is" : "are"} still missing.`;
  return mayLeaveShort
    ? `${missing} Pack them, or tick that it leaves with what there is.`
    : `${missing} Only a market's order may leave with what there is.`;
}

/** "12 are kept for W-104, 1 is kept for W-105" */
function keptWords(others: readonly { readonly reference: string; readonly units: number }[]): string {
  return others
    .map(({ reference, units }) => `${units} ${units === 1 ? "is" : "are"} kept for ${reference}`)
    .join(", ");
}

function takenWords(taken: readonly Taken[]): string {
  return taken.map(({ name, units }) => `; ${name} has just packed ${units}`).join("");
}

/** "Nothing is", "Only 1 piece is", "Only 3 of lot K7Q are". */
function leftWords(left: number, amount: string, ofWhat = ""): string {
  if (left === 0) return `Nothing${ofWhat} is`;
  return `Only ${amount}${ofWhat} ${left === 1 ? "is" : "are"}`;
}
