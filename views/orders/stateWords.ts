import type { OrderState, OrderTerms } from "../../server/orders/order.ts";

const stateNames: Readonly<Record<OrderState, string>> = {
  draft: "a draft",
  confirmed: "confirmed",
  packing: "being packed",
  packed: "packed",
  shipped: "shipped",
  delivered: "delivered",
  cancelled: "cancelled",
};

/** A state as it stands in a sentence: "It is being packed." */
export function stateWords(state: OrderState): string {
  return stateNames[state];
}

/** A state as it stands alone, on a mark. */
export function stateName(state: OrderState): string {
  return state === "draft" ? "draft" : stateNames[state];
}

const termsNames: Readonly<Record<OrderTerms, string>> = {
  complete: "one whole delivery",
  "as-ready": "part deliveries as pieces are ready",
  market: "for a market day",
};

/** How an order is delivered, in words. */
export function termsWords(terms: OrderTerms): string {
  return termsNames[terms];
}

/** A choice of the list's filter, as a link is called. */
export function filterWords(shown: OrderState | "open" | "late" | "all"): string {
  return { ...stateNames, draft: "drafts", all: "all orders", open: "open", late: "late" }[shown];
}
