import type { PlanCase } from "../planning/case.ts";
import { compareCosts, costPlan } from "../planning/costPlan.ts";
import type { Plan } from "../planning/plan.ts";

/** The better of two plans for a case by all a plan is compared by; the first where they are alike. */
export function betterPlan(planCase: PlanCase, one: Plan, other: Plan): Plan {
  return compareCosts(costPlan(planCase, other), costPlan(planCase, one)) < 0 ? other : one;
}
