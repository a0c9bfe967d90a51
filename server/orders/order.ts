/*
 * What an order may do, in words the whole feature shares. Pure: facts in, answers out.
 */

/** Lines of one order at most: more than any box or stall takes, few enough for one page. */
export const MOST_LINES = 500;
/** Pieces of one line at most. */
export const MOST_UNITS = 100_000;
/** A ship-by date further ahead than this is taken for a slip of the year. */
export const MOST_DAYS_AHEAD = 731;

export const orderStates = [
  "draft",
  "confirmed",
  "packing",
  "packed",
  "shipped",
  "delivered",
  "cancelled",
] as const;
export type OrderState = (typeof orderStates)[number];

/** complete: one whole delivery; as-ready: part deliveries; market: what is not ready on the day is not sold. */
export const orderTerms = ["complete", "as-ready", "market"] as const;
export type OrderTerms = (typeof orderTerms)[number];

/** So many pieces of one product. */
export interface OrderedProduct {
  readonly productId: number;
  readonly units: number;
  /** Agreed for one piece, in minor units; null or left out: as the lists say at confirmation. */
  readonly unitPriceMinor?: number | null;
  /** Off this line; left out: nothing. */
  readonly discountBasisPoints?: number;
}

/** What is typed of an order's money while it is a draft. */
interface TypedMoney {
  /** The currency that the amounts were read in; left out where nobody typed any. */
  readonly currency?: string;
  /** Off the sum of the lines; null or left out: what the customer is usually given. */
  readonly discountBasisPoints?: number | null;
  /** Null or left out: what the customer is usually charged. */
  readonly shippingMinor?: number | null;
}

/** What the maker decides about an order; everything else follows from the work. */
export interface OrderContent extends TypedMoney {
  /** The number both sides quote. Null: the next free one of our own. */
  readonly reference: string | null;
  readonly customerId: number;
  /** Null: as the customer usually takes it. */
  readonly terms: OrderTerms | null;
  /** ISO 8601 date of the workshop; null: reckoned back from the needed-by date. */
  readonly shipBy: string | null;
  /** When the customer must have it; null or left out: nobody said. */
  readonly neededBy?: string | null;
  /** The customer's own number for it. */
  readonly customerReference?: string;
  readonly note: string;
  /** 1 to 500 lines, each product once, 1 to 100 000 pieces each. */
  readonly lines: readonly OrderedProduct[];
}

/** How a customer takes an order when nobody said otherwise. */
export function usualTerms(customer: {
  readonly kind: "shop" | "market";
  readonly takesPartDeliveries: boolean;
}): OrderTerms {
  if (customer.kind === "market") return "market";
  return customer.takesPartDeliveries ? "as-ready" : "complete";
}

/** Our own numbers begin with W for a shop and M for a market. */
export function referenceLetter(customer: { readonly kind: "shop" | "market" }): "W" | "M" {
  return customer.kind === "market" ? "M" : "W";
}

/** Everything may change before packing; during packing the box keeps its label, but units, date and note may. */
export function mayChange(state: OrderState): boolean {
  return state === "draft" || state === "confirmed" || state === "packing";
}

/** Nothing may have left yet: that is asked of the deliveries. */
export function mayCancel(state: OrderState): boolean {
  return mayChange(state) || state === "packed";
}

/** Until it is packed whole it is waited for; what is packed only has to leave. */
function isWaitedFor(state: OrderState): boolean {
  return state === "confirmed" || state === "packing";
}

export type Promptness =
  | { readonly kind: "late"; readonly days: number }
  | { readonly kind: "today" }
  | { readonly kind: "ahead" }
  /** Packed or further, a draft, or cancelled: the date no longer presses. */
  | { readonly kind: "settled" };

/**
 * How an order stands against its ship-by date, the last on which it may be packed and still be on time.
 *
 * @param daysLeft whole days from today to the ship-by date; negative once it has gone by.
 */
export function promptnessOf(state: OrderState, daysLeft: number): Promptness {
  if (!isWaitedFor(state)) return { kind: "settled" };
  if (daysLeft < 0) return { kind: "late", days: -daysLeft };
  return { kind: daysLeft === 0 ? "today" : "ahead" };
}
