import { groupBy } from "../basics/groupBy.ts";
import { type JudgedOrder, type Kept, keptIn } from "./promiseKept.ts";

/** The rate of one month. */
export interface MonthKept extends Kept {
  /** Such as "2027-03". */
  readonly month: string;
}

/** How promises were kept in some months, by month, by customer, and which were not. */
export interface KeptReport<Order> {
  /** The newest first. */
  readonly months: readonly MonthKept[];
  /** Customers with orders that were due, by name; their months without any are left out. */
  readonly customers: readonly {
    readonly customerId: number;
    readonly customer: string;
    readonly inAll: Kept;
    readonly months: readonly MonthKept[];
  }[];
  /** Late or short, the newest first. */
  readonly late: readonly Order[];
}

/** @param months such as "2027-03", the newest first */
export function keptReport<Order extends JudgedOrder & { readonly customer: string }>(
  orders: readonly Order[],
  months: readonly string[],
): KeptReport<Order> {
  const due = orders.filter(
    ({ shipBy, verdict }) => verdict !== "not-due" && months.includes(shipBy.slice(0, 7)),
  );
  const byMonth = (some: readonly Order[]) => months.map((month) => ({ month, ...keptIn(some, month) }));
  const customers = [...groupBy(due, ({ customerId }) => customerId)].map(([customerId, own]) => ({
    customerId,
    customer: own[0]?.customer ?? "",
    inAll: keptIn(own, ""),
    months: byMonth(own).filter(({ of }) => of > 0),
  }));
  return {
    months: byMonth(due),
    customers: customers.toSorted((one, other) => one.customer.localeCompare(other.customer, "en")),
    late: due.filter(({ verdict }) => verdict === "late").toReversed(),
  };
}
