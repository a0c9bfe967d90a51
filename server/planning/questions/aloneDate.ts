import type { Order, PlanCase } from "../case.ts";
import { planCase as findPlan } from "../planCase.ts";
import { afterIterations } from "../stop.ts";
import { dateOfDay } from "../timing/clock.ts";
import { horizonOf } from "../timing/horizon.ts";

/** When an order would be ready if nobody else had ordered anything. */
export interface AloneDate {
  /** Null when it can't be served in full even then. */
  readonly readyOn: string | null;
  /** True where no plan can be earlier. */
  readonly proven: boolean;
}

/** One order needs few moves; a large one needs fewer still, each being long. */
const iterations = 200;

/**
 * The date an order would be ready if it were alone in the workshop, with the stock there is and what is already
 * drying. Lateness up to then no plan can avoid; the rest comes from sharing.
 */
export function aloneDate(planCase: PlanCase, order: Order): AloneDate {
  const { firstDay } = horizonOf(planCase);
  // Due before everything, whole and by itself: its lateness is then its date, and the earliest is the best.
  const alone: Order = { ...order, terms: "complete", weight: 1, shipBy: dateOfDay(firstDay - 1) };
  const plan = findPlan({ ...planCase, orders: [alone] }, { seed: 1, stop: afterIterations(iterations) });
  return { readyOn: plan.orders[0]?.readyOn ?? null, proven: plan.bound >= plan.cost - 1e-6 };
}
