import type { Order, PlanCase } from "../case.ts";
import { planCase as findPlan } from "../planCase.ts";
import { dateOfDay } from "../timing/clock.ts";
import { horizonOf } from "../timing/horizon.ts";
import { orderedUnits } from "./standing.ts";

/** When an order would be ready if nobody else had ordered anything. */
export interface AloneDate {
  /** Null when no plan was found that serves it in full. */
  readonly readyOn: string | null;
  /** No plan has it ready before this date; after the last session where no plan serves it in full. */
  readonly notBefore: string;
  /** True where no plan can be earlier than `readyOn`, or none can serve it in full. */
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
  let proven = false;
  const plan = findPlan(
    { ...planCase, orders: [alone] },
    {
      seed: 1,
      stop: { progress: (done) => (proven ? 1 : done / iterations) },
      onBetter: ({ cost, bound }) => {
        proven = bound >= cost - 1e-6;
      },
    },
  );
  const days = Math.ceil(plan.bound / orderedUnits(order) - 1e-6);
  return {
    readyOn: plan.orders[0]?.readyOn ?? null,
    notBefore: dateOfDay(Math.max(firstDay, firstDay - 1 + days)),
    proven: plan.bound >= plan.cost - 1e-6,
  };
}
