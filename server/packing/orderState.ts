import type { OrderState } from "../orders/order.ts";

/** Pieces may go into its box; the first ones start the packing, and a crate that was to leave short is opened again. */
export function takesPieces(state: OrderState): boolean {
  return state === "confirmed" || givesPieces(state);
}

/** Pieces may come out of its box; out of a packed one, it is being packed again. */
export function givesPieces(state: OrderState): boolean {
  return state === "packing" || state === "packed";
}
