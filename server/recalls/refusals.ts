/** Why a lot is not recalled, or nothing is written down of a recall. */
export type RecallRefusal =
  | { readonly why: "no-such-lot" | "no-such-recall" | "no-such-customer" | "over" }
  | { readonly why: "recalled-already"; readonly code: string };

/** The refusal in one sentence. */
export function recallRefusalWords(refusal: RecallRefusal): string {
  switch (refusal.why) {
    case "no-such-lot":
      return "There is no such lot, or nothing of it was made.";
    case "no-such-recall":
      return "There is no such recall.";
    case "no-such-customer":
      return "There is no such customer.";
    case "over":
      return "This recall is over. Nothing was changed.";
    case "recalled-already":
      return `${refusal.code} is recalled already.`;
  }
}
