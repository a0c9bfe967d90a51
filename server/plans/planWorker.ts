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
  /** Wall-clock time for all re-plans that find out what holds the workshop up. */
  readonly holdUpSeconds: number;
}

/** A plan, and what keeps it from being better. */
export interface PlanAnswer {
  readonly plan: Plan;
  readonly holdUps: HoldUps;
}

/** Runs in a thread of its own: as long as it takes, the server goes on answering. */
export function answerTask({ planCase, seed, searchSeconds, holdUpSeconds }: PlanTask): PlanAnswer {
  const plan = findPlan(planCase, { seed, stop: after(searchSeconds) });
  const deadline = performance.now() + holdUpSeconds * 1000;
  const each = Math.min(MOST_SECONDS_A_REPLAN, holdUpSeconds / 10);
  const holdUps = whatHoldsUp(planCase, {
    seed,
    plan,
    // Every re-plan gets the same effort as long as there is time; those after it only what follows from the others.
    effort: () => after(Math.min(each, Math.max(0, (deadline - performance.now()) / 1000))),
  });
  return { plan, holdUps };
}

/** A re-plan starts from a plan that is good already, so that little time shows whether more of a resource helps. */
const MOST_SECONDS_A_REPLAN = 0.05;

/** The engine has no clock; this is the only stop made of wall-clock time. */
function after(seconds: number): Stop {
  const from = performance.now();
  return { progress: () => (seconds <= 0 ? 1 : (performance.now() - from) / (seconds * 1000)) };
}
