import { pieces, wholeWords } from "../../views/format/quantities.ts";
import { stoppedWords } from "../../views/holds/stopWords.ts";
import type { Stop } from "./stops.ts";

/** Why a lot is not put on hold or let go, or pieces are not kept for an order. */
export type HoldRefusal =
  | { readonly why: "no-such-lot" | "no-such-line" }
  | { readonly why: "has-no-pieces" | "held-already" | "not-held" | "nothing-kept"; readonly code: string }
  | { readonly why: "not-packed-now"; readonly reference: string }
  | { readonly why: "lot-unfit"; readonly code: string; readonly reference: string }
  | { readonly why: "stopped"; readonly code: string; readonly stop: Stop }
  | { readonly why: "line-wants-less"; readonly reference: string; readonly left: number }
  | { readonly why: "fewer-free"; readonly code: string; readonly free: number };

/** The refusal in one sentence. */
export function holdRefusalWords(refusal: HoldRefusal): string {
  switch (refusal.why) {
    case "no-such-lot":
      return "There is no such lot.";
    case "no-such-line":
      return "Choose an order that wants pieces of this lot.";
    case "has-no-pieces":
      return `Nothing of lot ${refusal.code} has been pressed, so there is nothing to put on hold.`;
    case "held-already":
      return `Lot ${refusal.code} is on hold already.`;
    case "not-held":
      return `Lot ${refusal.code} is not on hold any more.`;
    case "nothing-kept":
      return `Nothing of lot ${refusal.code} is kept for that order any more.`;
    case "not-packed-now":
      return `${refusal.reference} is not waiting to be packed, so nothing is kept for it.`;
    case "lot-unfit":
      return `Lot ${refusal.code} is not what ${refusal.reference} wants there, or has no pieces yet.`;
    case "stopped":
      return stoppedWords(refusal.code, refusal.stop);
    case "line-wants-less":
      return `${refusal.reference} wants only ${pieces(refusal.left)} more of this.`;
    case "fewer-free":
      return `Only ${wholeWords(refusal.free)} of lot ${refusal.code} can be kept: the others are gone or kept for another order.`;
  }
}
