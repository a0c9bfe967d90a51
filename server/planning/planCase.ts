import type { PlanCase } from "./case.ts";
import { checkPlan } from "./checkPlan.ts";
import { costPlan, totalHandMinutes } from "./costPlan.ts";
import { lowerBound } from "./lowerBound.ts";
import type { Decisions, Plan } from "./plan.ts";
import { anneal, build } from "./search/anneal.ts";
import { compileCase } from "./search/instance.ts";
import { Random } from "./search/random.ts";
import { readDecisions } from "./search/readPlan.ts";
import { Schedule } from "./search/schedule.ts";
import { writeDecisions } from "./search/writePlan.ts";
import type { Stop } from "./stop.ts";

export interface PlanOptions {
  /** Fixes the search: the same seed and the same number of iterations give the same plan on every machine. */
  readonly seed: number;
  readonly stop: Stop;
  /** Decisions to start from, as of an earlier plan for the case or one with less to go round. */
  readonly start?: Decisions;
  /** Called with every better plan as it is found, the first one included. */
  readonly onBetter?: (plan: Plan) => void;
}

/** Plans a case: the best plan found before the stop, with a proven bound. Never gives a plan that breaks a rule. */
export function planCase(planCase: PlanCase, options: PlanOptions): Plan {
  const instance = compileCase(planCase);
  const schedule = new Schedule(instance);
  const bound = lowerBound(instance);
  const started = options.start !== undefined && readDecisions(planCase, options.start, schedule);
  if (!started) build(schedule, new Random(options.seed));
  const finish = (cells: Float64Array) =>
    finishPlan(planCase, writeDecisions(planCase, schedule, cells), bound);
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
    bound,
    runs: decisions.runs,
    supplies: decisions.supplies,
    orders: cost.orders.map((order) => order.outcome),
  };
}
