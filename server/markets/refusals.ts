import { pieces } from "../../views/format/quantities.ts";
import type { Mistake } from "../http/takeForm.ts";
import type { ChangeRefusal } from "../orders/refusals.ts";
import type { CountedRow } from "./forms.ts";

/** Why something about a market is not done. */
export type MarketRefusal =
  | { readonly why: "no-such-market" | "no-such-customer" | "no-such-order" | "no-such-product" }
  | { readonly why: "planned-already"; readonly marketId: number }
  | { readonly why: "currency-changed" }
  | { readonly why: "called-off" | "counted" | "not-over" }
  /** Its crate list is no draft any more. */
  | { readonly why: "list-stands"; readonly reference: string }
  | { readonly why: "list-changed" }
  | { readonly why: "list-refused"; readonly refusal: ChangeRefusal }
  | { readonly why: "no-working-day" }
  /** What is in the crate is not known before it has left. */
  | { readonly why: "crate-not-left"; readonly reference: string }
  | { readonly why: "crate-left"; readonly reference: string }
  | { readonly why: "counted-meanwhile" }
  | { readonly why: "nothing-taken" }
  /** More is to be taken off the shelf again than is left there. */
  | { readonly why: "gone-from-shelf"; readonly productId: number; readonly units: number }
  | { readonly why: "more-than-taken"; readonly productId: number; readonly units: number };

/** The refusal in one sentence. */
function marketRefusalWords(refusal: MarketRefusal): string {
  switch (refusal.why) {
    case "no-such-market":
      return "There is no such market.";
    case "no-such-customer":
      return "Choose a market from the list.";
    case "no-such-order":
      return "There is no such crate list of this market.";
    case "no-such-product":
      return "One of the products is not there any more. Reload the page.";
    case "planned-already":
      return "This market is written down for that date already.";
    case "currency-changed":
      return "The workshop's currency was changed meanwhile. Reload the page.";
    case "called-off":
      return "This market is called off.";
    case "counted":
      return "This market has been counted already.";
    case "not-over":
      return "This market has not been yet.";
    case "list-stands":
      return `The crate list ${refusal.reference} is confirmed already: change it on its own page.`;
    case "list-changed":
      return "The crate list was changed after this page was made. It is shown as it is now; nothing was written.";
    case "list-refused":
      return "The crate list does not take these numbers.";
    case "no-working-day":
      return "There is no working session in which the crate could be packed before this market.";
    case "crate-not-left":
      return `The crate of ${refusal.reference} has not left yet: pack it and let it leave first.`;
    case "crate-left":
      return `The crate of ${refusal.reference} has left: count what comes home instead.`;
    case "counted-meanwhile":
      return "Somebody else has counted this market meanwhile. It is shown as they wrote it down; nothing of yours was.";
    case "nothing-taken":
      return "Say of at least one product how many were taken.";
    case "gone-from-shelf":
      return `Only ${pieces(refusal.units)} of what came home are still on the shelf; the rest has been packed since.`;
    case "more-than-taken":
      return `Only ${pieces(refusal.units)} were taken.`;
  }
}

/** Where a refusal of the market's own form is answered. */
export function marketMistake(refusal: MarketRefusal): Mistake {
  const sentence = marketRefusalWords(refusal);
  switch (refusal.why) {
    case "no-such-customer":
      return { field: "customer", sentence };
    case "planned-already":
      return { field: "held_on", sentence };
    default:
      return { field: "", sentence, status: 409 };
  }
}

/** Where a refusal of the numbers for the crate is answered: what is wrong with them beside the number. */
export function crateMistake(refusal: MarketRefusal): Mistake {
  if (refusal.why !== "list-refused") return marketMistake(refusal);
  return { field: "", sentence: listWords(refusal.refusal), status: 409 };
}

function listWords(refusal: ChangeRefusal): string {
  switch (refusal.why) {
    case "product-retired":
      return `${refusal.product} is no longer made; leave it out.`;
    case "product-unknown":
      return "One of the products is not there any more. Reload the page.";
    case "customer-retired":
      return `${refusal.customer} is not on the list of customers any more.`;
    case "date-gone-by":
      return "The day on which the crate had to be packed has gone by: enter its order by hand, with a later date.";
    case "date-too-far":
      return "This market is too far ahead for a crate list.";
    default:
      return "The crate list was changed meanwhile. It is shown as it is now; nothing was written.";
  }
}

/** Where a refusal of a count is answered: beside the row it is about, else about the whole. */
export function countMistake(refusal: MarketRefusal, rows: readonly CountedRow[]): Mistake {
  if (refusal.why !== "gone-from-shelf" && refusal.why !== "more-than-taken") return wholeMistake(refusal);
  const row = rows.find(({ productId }) => productId === refusal.productId);
  return { field: row ? `rows.${row.place}.home` : "", sentence: marketRefusalWords(refusal) };
}

function wholeMistake(refusal: MarketRefusal): Mistake {
  const mistake = marketMistake(refusal);
  return refusal.why === "nothing-taken" ? { ...mistake, status: 422 } : mistake;
}
