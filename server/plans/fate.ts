import type { OrderOutcome } from "../planning/plan.ts";

/** How an order fares in a plan against what it is promised. */
export type Fate = Pick<OrderOutcome, "daysLate" | "unitsShort">;

/**
 * How much worse an order fares than before, below 0 where it fares better. One piece short weighs more than any
 * lateness; orders are compared with themselves only.
 */
export function worsening({ before, after }: { readonly before: Fate; readonly after: Fate }): number {
  return (after.unitsShort - before.unitsShort) * 1_000 + after.daysLate - before.daysLate;
}
