import { ok, type Result } from "../basics/result.ts";
import type { PlanCase } from "../planning/case.ts";
import type { Decisions, Plan } from "../planning/plan.ts";
import { betterPlan } from "./betterPlan.ts";
import { carriedInto } from "./carriedOver.ts";
import type { Planner, PlannerRefusal } from "./plannerPool.ts";

/** Wall-clock time for each of the three searches: a page waits for them. */
const SECONDS = 1;

/**
 * Plans the workshop as it is and as it would be, the second from the first, so that what differs comes from the
 * change and not from two searches that found other plans equally good. The first is then looked over from the second:
 * what only more searching found is no effect of the change.
 *
 * @param start what is decided already for the first; null: nothing.
 */
export async function planInTurn(
  planner: Planner,
  [before, after]: readonly [PlanCase, PlanCase],
  start: Decisions | null,
  signal: AbortSignal,
): Promise<Result<readonly [Plan, Plan], PlannerRefusal>> {
  const options = { seed: 1, seconds: Math.min(SECONDS, planner.searchSeconds), threads: 1, signal };
  const first = await planner.search(before, { ...options, ...(start && { start }) });
  if (!first.ok) return first;
  const { plan } = first.value;
  const changed = await planner.search(after, {
    ...options,
    start: carriedInto(after, { planCase: before, plan }),
  });
  if (!changed.ok) return changed;
  const afterPlan = changed.value.plan;
  const again = await planner.search(before, {
    ...options,
    start: carriedInto(before, { planCase: after, plan: afterPlan }),
  });
  if (!again.ok) return again;
  return ok([betterPlan(before, plan, again.value.plan), afterPlan]);
}
