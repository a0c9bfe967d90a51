import type { PlanCase } from "../planning/case.ts";
import type { Plan } from "../planning/plan.ts";
import { planCase as findPlan } from "../planning/planCase.ts";
import { type HoldUps, whatHoldsUp } from "../planning/questions/whatHoldsUp.ts";
import type { Stop } from "../planning/stop.ts";

/** What a planner thread is asked. */
export interface PlanTask {
  readonly planCase: PlanCase;
  readonly seed: number;
  /** Wall-clock time for the search itself. */
  readonly searchSeconds: number;
  /** Most wall-clock time for all re-plans that find out what holds the workshop up; usually they need less. */
  readonly holdUpSeconds: number;
}

/** A plan, and what keeps it from being better. */
export interface PlanAnswer {
  readonly plan: Plan;
  readonly holdUps: HoldUps;
}

/** Runs in a thread of its own: as long as it takes, the server goes on answering. */
export function answerTask({ planCase, seed, searchSeconds, holdUpSeconds }: PlanTask): PlanAnswer {
  const plan = findPlan(planCase, { seed, stop: afterSeconds(searchSeconds) });
  const deadline = afterSeconds(holdUpSeconds);
  const effort = (): Stop => ({
    progress: (iterations) => (deadline.progress(0) >= 1 ? 1 : iterations / ITERATIONS_A_REPLAN),
  });
  return { plan, holdUps: whatHoldsUp(planCase, { seed, plan, effort }) };
}

/**
 * A re-plan starts from a plan that is good already, so that little work shows whether more of a resource helps. It is
 * measured in iterations, not in time: on a busy machine too, all re-plans get the same.
 */
const ITERATIONS_A_REPLAN = 1_000;

/** The engine has no clock; this is the only stop made of wall-clock time. */
function afterSeconds(seconds: number): Stop {
  const from = performance.now();
  return { progress: () => (seconds <= 0 ? 1 : (performance.now() - from) / (seconds * 1000)) };
}
