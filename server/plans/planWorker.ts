import type { MessagePort } from "node:worker_threads";
import type { PlanCase } from "../planning/case.ts";
import { explainLateOrders, type LateReason } from "../planning/explainPlan.ts";
import type { Decisions, Plan } from "../planning/plan.ts";
import { planCase as findPlan } from "../planning/planCase.ts";
import { fillIn } from "../planning/questions/fillIn.ts";
import { type HoldUps, whatHoldsUp } from "../planning/questions/whatHoldsUp.ts";
import { afterEffort } from "./afterEffort.ts";
import { afterSeconds } from "./afterSeconds.ts";
import { betterPlan } from "./betterPlan.ts";
import { CallOff, type CallOffCells } from "./callOff.ts";
import { type PromiseAnswer, type PromiseTask, promiseBesideOthers } from "./promiseTask.ts";

/*
 * What a planner's thread does: a task comes in, an answer goes out. As long as it takes, the server goes on answering.
 */

/** One search of the several that look for a plan side by side. */
export interface SearchTask {
  readonly planCase: PlanCase;
  /** Decisions it starts from; what they leave unserved is first served in the room they leave free. */
  readonly start?: Decisions;
  readonly seed: number;
  /** When the search is over, in milliseconds since 1970; where the thread begins late, it gets some seconds all the same. */
  readonly until: number;
  readonly leastSeconds: number;
  /** Whether this thread works on the bound too. */
  readonly prove: boolean;
  readonly callOff: CallOffCells;
  /** Where each better plan is told; closed by whoever listens. */
  readonly news: MessagePort;
}

export interface SearchAnswer {
  readonly plan: Plan;
  /** Whether the search ended before its time, as no plan can be better. */
  readonly isBest: boolean;
  readonly iterationsASecond: number;
}

/** What keeps a plan from being better. */
export interface HoldUpTask {
  readonly planCase: PlanCase;
  readonly plan: Plan;
  readonly seed: number;
  /** Most wall-clock time for all re-plans; usually they need less. */
  readonly seconds: number;
  /** How fast the search was that found the plan. */
  readonly iterationsASecond: number;
  readonly callOff: CallOffCells;
}

export interface HoldUpAnswer {
  /** The plan asked about, or a better one that turned up while asking; the hold-ups are those of this one. */
  readonly plan: Plan;
  readonly holdUps: HoldUps;
}

export interface ReasonTask {
  readonly planCase: PlanCase;
  readonly plan: Plan;
}

/** Writing a plan out and sending it takes the time of many moves: not each of them is worth it. */
const LEAST_MS_BETWEEN_NEWS = 100;

export function searchSeed(task: SearchTask): SearchAnswer {
  const { planCase, start, seed, prove, callOff, news } = task;
  const clock = afterSeconds(Math.max(task.leastSeconds, (task.until - Date.now()) / 1000));
  const stop = new CallOff(callOff).watching(clock);
  let told = Number.NEGATIVE_INFINITY;
  const onBetter = (plan: Plan) => {
    if (performance.now() - told < LEAST_MS_BETWEEN_NEWS) return;
    told = performance.now();
    news.postMessage(plan);
  };
  const filled = start === undefined ? null : fillIn(planCase, start, seed);
  const plan = findPlan(planCase, { seed, stop, prove, onBetter, ...(filled && { start: filled }) });
  return { plan, isBest: !clock.isOver(), iterationsASecond: clock.iterationsASecond() };
}

export function askHoldUps(task: HoldUpTask): HoldUpAnswer {
  const { planCase, plan, seed } = task;
  const callOff = new CallOff(task.callOff);
  const deadline = afterSeconds(task.seconds);
  const iterations = iterationsAReplan(task.iterationsASecond * task.seconds);
  const effort = () => callOff.watching(afterEffort(iterations, deadline));
  // What every saving is measured against is planning again with nothing added: where that finds a better plan, it is
  // the better plan that holds up or not.
  const again = findPlan(planCase, { seed, stop: effort(), start: plan, prove: false });
  const best = betterPlan(planCase, plan, { ...again, bound: Math.min(plan.bound, again.cost) });
  return { plan: best, holdUps: whatHoldsUp(planCase, { seed, plan: best, effort }) };
}

export function giveReasons({ planCase, plan }: ReasonTask): readonly LateReason[] {
  return explainLateOrders(planCase, plan);
}

export function givePromise(task: PromiseTask): PromiseAnswer {
  return promiseBesideOthers(task);
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
