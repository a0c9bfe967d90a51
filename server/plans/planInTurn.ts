import { ok, type Result } from "../basics/result.ts";
import type { PlanCase } from "../planning/case.ts";
import type { Decisions, OrderOutcome, Plan } from "../planning/plan.ts";
import { betterPlan } from "./betterPlan.ts";
import { carriedInto } from "./carriedOver.ts";
import { type Fate, worsening } from "./fate.ts";
import type { Planner, PlannerRefusal } from "./plannerPool.ts";

/** Wall-clock time for each of the three searches: a page waits for them. */
const SECONDS = 1;

/** The workshop as it is, as it would be, and the order that makes the difference, which is in both or in one. */
interface InTurn {
  readonly before: PlanCase;
  readonly after: PlanCase;
  readonly changed: string;
}

/**
 * Plans the workshop as it is and as it would be, the second from the first, so that what differs comes from the
 * change and not from two searches that found other plans equally good. The first is then looked over from the second:
 * what only more searching found is no effect of the change. Of all plans on the way one is taken that makes nobody
 * later, if there is one: better on the whole at somebody's cost is a choice of its own, and no change's effect.
 *
 * @param start what is decided already for the first; null: nothing.
 */
export async function planInTurn(
  planner: Planner,
  { before, after, changed }: InTurn,
  start: Decisions | null,
  signal: AbortSignal,
): Promise<Result<readonly [Plan, Plan], PlannerRefusal>> {
  /** All plans found on the way, each better than the one before it; the last is the best. */
  const search = async (planCase: PlanCase, from: Decisions | null) => {
    const plans: Plan[] = [];
    const seconds = Math.min(SECONDS, planner.searchSeconds);
    const searched = await planner.search(planCase, {
      ...{ seed: 1, seconds, threads: 1, signal },
      ...(from && { start: from }),
      onBetter: ({ plan }) => plans.push(plan),
    });
    return searched.ok ? ok({ best: searched.value.plan, plans }) : searched;
  };
  const first = await search(before, start);
  if (!first.ok) return first;
  const { best } = first.value;
  const second = await search(after, carriedInto(after, { planCase: before, plan: best }));
  if (!second.ok) return second;
  const then = calmest(best, [...second.value.plans, second.value.best], changed);
  const again = await search(before, carriedInto(before, { planCase: after, plan: then }));
  if (!again.ok) return again;
  const better = [...again.value.plans, again.value.best].filter(
    (plan) => isAnyWorse(best, then, changed) || !isAnyWorse(plan, then, changed),
  );
  return ok([better.reduce((one, other) => betterPlan(before, one, other), best), then]);
}

/**
 * The best of some plans in which nobody but the changed order fares worse than before, and that one as well as in the
 * best of all; that one itself where there is none such.
 *
 * @param plans of growing quality, at least one.
 */
export function calmest(before: Plan, plans: readonly Plan[], changed: string): Plan {
  const best = plans.at(-1);
  if (best === undefined) throw new Error("There is no plan to choose");
  const own = outcomeOf(best, changed);
  return (
    plans.findLast((plan) => !isAnyWorse(before, plan, changed) && !isWorse(own, outcomeOf(plan, changed))) ??
    best
  );
}

function isAnyWorse(before: Plan, after: Plan, except: string): boolean {
  const known = new Map(before.orders.map((outcome) => [outcome.id, outcome]));
  return after.orders.some((outcome) => outcome.id !== except && isWorse(known.get(outcome.id), outcome));
}

/** Who is in one plan only is not compared. */
function isWorse(before: Fate | undefined, after: Fate | undefined): boolean {
  return before !== undefined && after !== undefined && worsening({ before, after }) > 0;
}

function outcomeOf({ orders }: Plan, id: string): OrderOutcome | undefined {
  return orders.find((outcome) => outcome.id === id);
}
