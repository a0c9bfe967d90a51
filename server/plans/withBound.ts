import type { Plan } from "../planning/plan.ts";

/** A plan with a bound that was proven elsewhere, where that is higher than its own. */
export function withBound(plan: Plan, bound: number): Plan {
  return { ...plan, bound: Math.min(plan.cost, Math.max(plan.bound, bound)) };
}

/** Whether no plan can be less late. */
export function isProvenBest({ cost, bound }: Plan): boolean {
  return cost - bound <= 1e-6 * cost;
}
