import { z } from "zod";
import { dateField } from "../http/formFields.ts";
import { orderStates } from "./order.ts";

/** What the list can be narrowed to: one state, all that is open (the usual), what is late, or everything. */
export const shownStates = ["open", "late", ...orderStates, "all"] as const;
type ShownState = (typeof shownStates)[number];

/** Ways in which an order can be late: not gone though its date is, by the plan that is followed, or gone too late. */
const latenesses = ["date-gone-by", "by-plan", "left-late"] as const;
export type Lateness = (typeof latenesses)[number];

export interface OrderFilter {
  readonly state: ShownState;
  /** Null: everybody's. */
  readonly customerId: number | null;
  /** Words that all stand somewhere on the order; "" for any. */
  readonly words: string;
  /** Orders with a line of this blend; null: of any. */
  readonly blendId: number | null;
  /** Ship-by dates, both included, ISO 8601; null: open on that side. */
  readonly from: string | null;
  readonly to: string | null;
  readonly lateness: Lateness | null;
  /** From 1. */
  readonly page: number;
}

/** More of a search than this is a slip of the clipboard. */
const MOST_WORDS_LENGTH = 100;

/** Reads the filter from a link. What it does not understand is left out, so that an old link still shows a list. */
const filterQuery = z.object({
  state: z.enum(shownStates).nullable().catch(null),
  customer: wholeNumber(null),
  q: z
    .string()
    .transform((typed) => typed.replaceAll("\u0000", "").trim().replaceAll(/\s+/g, " "))
    .transform((typed) => typed.slice(0, MOST_WORDS_LENGTH))
    .catch(""),
  blend: wholeNumber(null),
  from: dateField().nullable().catch(null),
  to: dateField().nullable().catch(null),
  lateness: z.enum(latenesses).nullable().catch(null),
  page: wholeNumber(1),
});

export function readFilter(query: unknown): OrderFilter {
  const { state, customer, q, blend, from, to, lateness, page } = filterQuery.parse(query ?? {});
  const rest = { customerId: customer, words: q, blendId: blend, from, to, lateness, page: page ?? 1 };
  return { ...rest, state: state ?? usualState(rest) };
}

/** Whoever looks for something finds what is over too; otherwise what is still to do is what one wants to see. */
export function usualState({ words, lateness }: Pick<OrderFilter, "words" | "lateness">): ShownState {
  return words !== "" || lateness === "left-late" ? "all" : "open";
}

/** The link that shows a filter; the usual parts are left out. `at`: the list as a page, or as a file. */
export function filterLink(filter: OrderFilter, at = "/orders"): string {
  const { state, customerId, words, blendId, from, to, lateness, page } = filter;
  const parts = {
    q: words,
    state: state === usualState(filter) ? null : state,
    customer: customerId,
    blend: blendId,
    from,
    to,
    lateness,
    page: page > 1 ? page : null,
  };
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(parts))
    if (value !== null && value !== "") query.set(name, String(value));
  const said = query.toString();
  return said === "" ? at : `${at}?${said}`;
}

function wholeNumber(otherwise: number | null) {
  return z
    .string()
    .regex(/^[1-9]\d{0,8}$/)
    .transform(Number)
    .nullable()
    .catch(otherwise);
}
