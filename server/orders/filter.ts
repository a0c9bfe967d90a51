import { z } from "zod";
import { orderStates } from "./order.ts";

/** What the list can be narrowed to: one state, all that is open (the usual), what is late, or everything. */
export const shownStates = ["open", "late", ...orderStates, "all"] as const;
type ShownState = (typeof shownStates)[number];

export interface OrderFilter {
  readonly state: ShownState;
  /** Null: everybody's. */
  readonly customerId: number | null;
  /** From 1. */
  readonly page: number;
}

/** Reads the filter from a link. What it does not understand is left out, so that an old link still shows a list. */
const filterQuery = z.object({
  state: z.enum(shownStates).catch("open"),
  customer: wholeNumber(null),
  page: wholeNumber(1),
});

export function readFilter(query: unknown): OrderFilter {
  const { state, customer, page } = filterQuery.parse(query ?? {});
  return { state, customerId: customer, page: page ?? 1 };
}

/** The link that shows a filter; the usual parts are left out. */
export function filterLink(filter: OrderFilter): string {
  const query = new URLSearchParams();
  if (filter.state !== "open") query.set("state", filter.state);
  if (filter.customerId !== null) query.set("customer", String(filter.customerId));
  if (filter.page > 1) query.set("page", String(filter.page));
  const words = query.toString();
  return words === "" ? "/orders" : `/orders?${words}`;
}

function wholeNumber(otherwise: number | null) {
  return z
    .string()
    .regex(/^[1-9]\d{0,8}$/)
    .transform(Number)
    .nullable()
    .catch(otherwise);
}
