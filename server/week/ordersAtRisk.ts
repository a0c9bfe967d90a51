import { daysBetween } from "../../views/format/dates.ts";
import type { Packable } from "./packableNow.ts";
import type { OpenOrder, PlannedOutcome, WeekFacts } from "./weekFacts.ts";

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
export function ordersAtRisk(
  facts: Pick<WeekFacts, "today" | "outcomes">,
  packable: readonly Packable[],
): readonly Risk[] {
  const outcomes = facts.outcomes && new Map(facts.outcomes.map((outcome) => [outcome.reference, outcome]));
  return packable
    .flatMap(({ order, whole }) => {
      if (order.shipBy < facts.today) {
        return [{ order, kind: "overdue" as const, days: daysBetween(order.shipBy, facts.today) }];
      }
      return whole || !outcomes ? [] : riskByPlan(order, outcomes.get(order.reference));
    })
    .sort((one, other) => URGENCY.indexOf(one.kind) - URGENCY.indexOf(other.kind));
}

function riskByPlan(order: OpenOrder, outcome: PlannedOutcome | undefined): readonly Risk[] {
  if (!outcome) return [{ order, kind: "unplanned" }];
  if (order.terms === "market" && outcome.unitsShort > 0) {
    return [{ order, kind: "short", units: outcome.unitsShort }];
  }
  if (outcome.daysLate > 0) {
    return [{ order, kind: "late", days: outcome.daysLate, readyOn: outcome.readyOn }];
  }
  return outcome.readyOn === order.shipBy ? [{ order, kind: "tight" }] : [];
}
