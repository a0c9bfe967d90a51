import type { orders } from "../../db/schema/orders.ts";

export type OrderState = typeof orders.$inferSelect.state;

/** Pieces may go into its box; the first ones start the packing, and a market that was to leave short is opened again. */
export function takesPieces(state: OrderState): boolean {
  return state === "confirmed" || state === "packing" || state === "packed";
}

/** Pieces may come out of its box; out of a packed one, it is being packed again. */
export function givesPieces(state: OrderState): boolean {
  return state === "packing" || state === "packed";
}
