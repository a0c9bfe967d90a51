import { daysBetween } from "../../views/format/dates.ts";
import { canBeFilled, type OpenOrder, type PlannedOutcome, type WeekFacts } from "./weekFacts.ts";

/** Why an order needs a look, the most urgent reason only. */
export type Risk = { readonly order: OpenOrder } & (
  | { readonly kind: "overdue"; readonly days: number }
  | { readonly kind: "short"; readonly units: number }
  | { readonly kind: "late"; readonly days: number; readonly readyOn: string | null }
  | { readonly kind: "unplanned" }
  | { readonly kind: "tight" }
);

/** What has gone wrong comes before what will, and that before what might. */
const URGENCY: readonly Risk["kind"][] = ["overdue", "short", "late", "unplanned", "tight"];

/**
 * The orders that are late, will be, or have nothing to spare, most urgent first. An order whose pieces are all
 * packed or ready needs no plan any more, only hands.
 */
export function ordersAtRisk({
  today,
  outcomes,
  orders,
}: Pick<WeekFacts, "today" | "outcomes" | "orders">): readonly Risk[] {
  const planned = outcomes && new Map(outcomes.map((outcome) => [outcome.reference, outcome]));
  return orders
    .flatMap((order): readonly Risk[] => {
      if (order.shipBy < today) return [{ order, kind: "overdue", days: daysBetween(order.shipBy, today) }];
      return planned && !canBeFilled(order) ? riskByPlan(order, planned.get(order.reference)) : [];
    })
    .sort((one, other) => URGENCY.indexOf(one.kind) - URGENCY.indexOf(other.kind));
}

function riskByPlan(order: OpenOrder, outcome: PlannedOutcome | undefined): readonly Risk[] {
  if (!outcome) return [{ order, kind: "unplanned" }];
  if (order.packing?.terms === "market" && outcome.unitsShort > 0) {
    return [{ order, kind: "short", units: outcome.unitsShort }];
  }
  if (outcome.daysLate > 0) {
    return [{ order, kind: "late", days: outcome.daysLate, readyOn: outcome.readyOn }];
  }
  return outcome.readyOn === order.shipBy ? [{ order, kind: "tight" }] : [];
}
