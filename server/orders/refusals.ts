import type { OrderState } from "./order.ts";

/** Why an order cannot be entered or changed as it was asked for. */
export type ContentRefusal =
  | { readonly why: "reference-taken"; readonly reference: string }
  | { readonly why: "customer-unknown" }
  | { readonly why: "customer-retired"; readonly customer: string }
  | { readonly why: "product-unknown"; readonly line: number }
  | { readonly why: "product-retired"; readonly line: number; readonly product: string }
  | { readonly why: "date-gone-by"; readonly today: string }
  | { readonly why: "date-too-far"; readonly last: string }
  /** To be there in time it would have had to leave before today. */
  | { readonly why: "needed-too-soon"; readonly shipBy: string; readonly today: string }
  /** There is no working day on which it could leave to be there in time. */
  | { readonly why: "no-working-day" }
  /** The amounts were typed in a currency that is no longer the workshop's. */
  | { readonly why: "currency-changed" };

/** Why a change of an order is refused: its content, what is already packed, or what happened meanwhile. */
export type ChangeRefusal =
  | ContentRefusal
  | { readonly why: "not-found" }
  /** Somebody changed the order after this form was made. */
  | { readonly why: "changed-meanwhile" }
  | { readonly why: "past-changing"; readonly state: OrderState }
  | { readonly why: "fixed-while-packing"; readonly field: "reference" | "customer" | "terms" }
  | { readonly why: "fixed-once-billed" }
  | { readonly why: "below-packed"; readonly line: number; readonly product: string; readonly packed: number }
  | { readonly why: "packed-line-missing"; readonly product: string; readonly packed: number };

export type ConfirmRefusal =
  | { readonly why: "not-found" }
  | { readonly why: "not-draft"; readonly state: OrderState }
  | { readonly why: "date-gone-by"; readonly today: string };

export type CancelRefusal =
  | { readonly why: "not-found" }
  | { readonly why: "past-cancelling"; readonly state: OrderState }
  /** A part delivery has left. */
  | { readonly why: "part-shipped"; readonly units: number };
