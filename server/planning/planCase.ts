import type { PlanCase } from "./case.ts";
import { checkPlan } from "./checkPlan.ts";
import { costPlan, totalHandMinutes } from "./costPlan.ts";
import type { Decisions, Plan } from "./plan.ts";
import { anneal, build } from "./search/anneal.ts";
import { compileCase } from "./search/instance.ts";
import { Random } from "./search/random.ts";
import { Schedule } from "./search/schedule.ts";
import { writeDecisions } from "./search/writePlan.ts";
import type { Stop } from "./stop.ts";

export interface PlanOptions {
  /** Fixes the search: the same seed and the same number of iterations give the same plan on every machine. */
  readonly seed: number;
  readonly stop: Stop;
  /** Called with every better plan as it is found, the first one included. */
  readonly onBetter?: (plan: Plan) => void;
}

/** Plans a case: the best plan found before the stop, with a proven bound. Never gives a plan that breaks a rule. */
export function planCase(planCase: PlanCase, options: PlanOptions): Plan {
  const schedule = new Schedule(compileCase(planCase));
  build(schedule, new Random(options.seed));
  const finish = (cells: Float64Array) => finishPlan(planCase, writeDecisions(planCase, schedule, cells), 0);
  options.onBetter?.(finish(schedule.cells));
  const best = anneal(schedule, options.seed, options.stop, (better) =>
    options.onBetter?.(finish(better.cells)),
  );
  const plan = finish(best.cells);
  const violations = checkPlan(planCase, plan);
  if (violations.length > 0) {
    throw new Error(
      `the planner made a plan that is not allowed: ${violations.map((v) => v.detail).join("; ")}`,
    );
  }
  return plan;
}

/** Adds the figures that follow from a plan's decisions. */
export function finishPlan(planCase: PlanCase, decisions: Decisions, bound: number): Plan {
  const cost = costPlan(planCase, decisions);
  return {
    cost: cost.lateness,
    handMinutes: totalHandMinutes(cost.handMinutes),
    bound: Math.min(bound, cost.lateness),
    runs: decisions.runs,
    supplies: decisions.supplies,
    orders: cost.orders.map((order) => order.outcome),
  };
}
