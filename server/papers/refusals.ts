import { dayWords } from "../../views/format/dates.ts";
import { moneyWords } from "../../views/format/money.ts";
import { counted, pieces } from "../../views/format/quantities.ts";

/** Why an order is not billed. */
export type InvoiceRefusal =
  | { readonly why: "not-found" | "draft" | "market" | "no-prices" | "cancelled" }
  | { readonly why: "unpriced"; readonly lines: number }
  | { readonly why: "nothing-to-bill"; readonly basis: "left" | "whole" };

/** Why an order is not billed, in one sentence. */
export function invoiceRefusalWords(refusal: InvoiceRefusal): string {
  switch (refusal.why) {
    case "not-found":
      return "There is no such order.";
    case "draft":
      return "A draft is not billed: confirm it first, which fixes its prices.";
    case "market":
      return "A market is the workshop's own stall: nobody is billed for it.";
    case "cancelled":
      return "The order is cancelled and nothing of it has left.";
    case "no-prices":
      return "The order had no prices when it was confirmed, so there is nothing to bill.";
    case "unpriced":
      return `${counted(refusal.lines, "line")} of the order ${refusal.lines === 1 ? "has" : "have"} no price: an invoice would not be whole.`;
    case "nothing-to-bill":
      return refusal.basis === "left"
        ? "Everything that has left is billed already."
        : "The whole order is billed already.";
  }
}

/** Why a credit note is not written; beside a line where `place` says which. */
export type CreditRefusal =
  | { readonly why: "not-found" | "nothing-credited" }
  | {
      readonly why: "more-than-billed";
      readonly place: number;
      readonly left: number;
      readonly shipping: boolean;
    }
  | { readonly why: "line-unknown"; readonly place: number };

export function creditRefusalWords(refusal: CreditRefusal): string {
  switch (refusal.why) {
    case "not-found":
      return "There is no such invoice.";
    case "nothing-credited":
      return "Say of at least one line how many pieces are credited.";
    case "line-unknown":
      return "This line is not on the invoice: reload the page.";
    case "more-than-billed":
      if (refusal.shipping)
        return refusal.left === 0 ? "The shipping is credited already." : "There is one shipping to credit.";
      return refusal.left === 0
        ? "All its pieces are credited already."
        : `Only ${pieces(refusal.left)} of it can still be credited.`;
  }
}

/** Why an entry to an invoice is not made. */
export type PaymentRefusal =
  | { readonly why: "not-found" | "not-paid-yet" | "no-early-discount" }
  | { readonly why: "taken-back" | "is-counter-entry" }
  | { readonly why: "more-than-open"; readonly openMinor: number; readonly currency: string }
  | { readonly why: "nothing-to-let-off"; readonly openMinor: number; readonly currency: string }
  | { readonly why: "nothing-to-pay-back"; readonly favourMinor: number; readonly currency: string }
  | { readonly why: "too-late-for-discount"; readonly until: string }
  | { readonly why: "more-than-offered"; readonly leftMinor: number; readonly currency: string };

/** The field a refusal stands beside, and its sentence. */
export function paymentRefusalWords(refusal: PaymentRefusal): {
  readonly field: string;
  readonly sentence: string;
} {
  switch (refusal.why) {
    case "not-found":
      return { field: "", sentence: "There is no such entry." };
    case "not-paid-yet":
      return { field: "paidOn", sentence: "That day is still to come: give the day on which it happened." };
    case "no-early-discount":
      return { field: "kind", sentence: "No discount for paying early was offered with this invoice." };
    case "taken-back":
      return { field: "", sentence: "This entry is taken back already." };
    case "is-counter-entry":
      return { field: "", sentence: "A counter entry is not taken back: enter what happened anew." };
    case "more-than-open":
      return {
        field: "amount",
        sentence: `${openWords(refusal)} If it is right, tick below that it is more than is open.`,
      };
    case "nothing-to-let-off":
      return {
        field: "amount",
        sentence: `${openWords(refusal)} No more than that can be let off or kept back.`,
      };
    case "nothing-to-pay-back":
      return {
        field: "amount",
        sentence:
          refusal.favourMinor > 0
            ? `Only ${moneyWords(refusal.favourMinor, refusal.currency)} are in the customer's favour.`
            : "Nothing is in the customer's favour that could be paid back.",
      };
    case "too-late-for-discount":
      return {
        field: "paidOn",
        sentence: `The discount was for paying by ${dayWords(refusal.until)}. What you grant all the same is let off.`,
      };
    case "more-than-offered":
      return {
        field: "amount",
        sentence: `The discount for paying early comes to ${moneyWords(refusal.leftMinor, refusal.currency)} at most.`,
      };
  }
}

function openWords({
  openMinor,
  currency,
}: {
  readonly openMinor: number;
  readonly currency: string;
}): string {
  return openMinor > 0 ? `Only ${moneyWords(openMinor, currency)} are open.` : "Nothing is open any more.";
}
