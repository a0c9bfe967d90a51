import { ok, type Result } from "../basics/result.ts";
import type { PlanCase } from "../planning/case.ts";
import { checkPlan } from "../planning/checkPlan.ts";
import type { Plan } from "../planning/plan.ts";
import { finishPlan } from "../planning/planCase.ts";
import { betterPlan } from "./betterPlan.ts";
import type { Planner, PlannerRefusal } from "./plannerPool.ts";

/** Wall-clock time for each of the two plans: a page waits for them. */
const SECONDS = 2;

/**
 * Plans two questions of one workshop with the same effort, so that they can stand side by side. A plan for one that is
 * allowed for the other too serves there where it is better: more of a thing never looks worse for want of luck.
 */
export async function planBoth(
  planner: Planner,
  one: PlanCase,
  other: PlanCase,
  signal: AbortSignal,
): Promise<Result<readonly [Plan, Plan], PlannerRefusal>> {
  const options = { seed: 1, seconds: Math.min(SECONDS, planner.searchSeconds), threads: 1, signal };
  const [first, second] = await Promise.all([planner.search(one, options), planner.search(other, options)]);
  if (!first.ok) return first;
  if (!second.ok) return second;
  const [plan, otherPlan] = [first.value.plan, second.value.plan];
  return ok([servedBy(one, plan, otherPlan), servedBy(other, otherPlan, plan)]);
}

function servedBy(planCase: PlanCase, plan: Plan, another: Plan): Plan {
  // Its decisions are what counts: the figures that follow from them are other ones here.
  const allowed = checkPlan(planCase, another).every(({ rule }) => rule === "figures");
  return allowed ? betterPlan(planCase, plan, finishPlan(planCase, another, plan.bound)) : plan;
}
