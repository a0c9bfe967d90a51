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
  const search = afterSeconds(searchSeconds);
  const plan = findPlan(planCase, { seed, stop: search });
  const deadline = afterSeconds(holdUpSeconds);
  const iterations = iterationsAReplan(search.iterationsASecond() * holdUpSeconds);
  const effort = (): Stop => ({
    progress: (done) => (deadline.progress(0) >= 1 ? 1 : done / iterations),
  });
  return { plan, holdUps: whatHoldsUp(planCase, { seed, plan, effort }) };
}

/** About as many re-plans as it takes to ask four resources for one step more and for enough. */
const USUAL_REPLANS = 24;

/**
 * Effort of one re-plan, of all that can be done in the time there is. It is given in iterations, not in time: all
 * re-plans get the same, however busy the machine is in between, so that none looks useless for want of a chance.
 */
function iterationsAReplan(iterationsInAll: number): number {
  return Math.min(20_000, Math.max(500, Math.round(iterationsInAll / USUAL_REPLANS)));
}

interface TimedStop extends Stop {
  /** How fast the search was that this stop ended; 0 before it began. */
  iterationsASecond(): number;
}

/** The engine has no clock; this is the only stop made of wall-clock time. */
function afterSeconds(seconds: number): TimedStop {
  const from = performance.now();
  let reached = { iterations: 0, seconds: 0 };
  return {
    progress: (iterations) => {
      reached = { iterations, seconds: (performance.now() - from) / 1000 };
      return seconds <= 0 ? 1 : reached.seconds / seconds;
    },
    iterationsASecond: () => (reached.seconds > 0 ? reached.iterations / reached.seconds : 0),
  };
}
