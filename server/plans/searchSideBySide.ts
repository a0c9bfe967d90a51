import { MessageChannel } from "node:worker_threads";
import type { Piscina } from "piscina";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { PlanCase } from "../planning/case.ts";
import { compareCosts, costPlan, type PlanCost } from "../planning/costPlan.ts";
import type { Decisions, Plan } from "../planning/plan.ts";
import { seeds } from "../planning/search/random.ts";
import { type CallOff, Waiting } from "./callOff.ts";
import type { PlannerRefusal } from "./plannerPool.ts";
import type { SearchAnswer, SearchTask } from "./planWorker.ts";
import { withBound } from "./withBound.ts";

/** A plan, and the seed of the search that found it. */
export interface SeededPlan {
  readonly plan: Plan;
  readonly seed: number;
}

/** The best plan of several searches. */
export interface FoundPlan extends SeededPlan {
  /** Whether the search ended before its time, as no plan can be better. */
  readonly isBest: boolean;
  readonly iterationsASecond: number;
}

interface SideBySide {
  readonly planCase: PlanCase;
  /** Decisions that every search starts from. */
  readonly start?: Decisions;
  /** Of the first search; the others have those that follow. */
  readonly seed: number;
  readonly seconds: number;
  /** Of all searches but the first, where they leave their cores to others before its end. */
  readonly othersSeconds?: number;
  readonly threads: number;
  readonly callOff: CallOff;
  readonly signal?: AbortSignal;
  readonly onBetter?: (better: SeededPlan) => void;
}

/** What a search gets whose thread begins late, as a thread does that has to be started first. */
const LEAST_SECONDS = 0.25;

/**
 * Searches with several seeds at the same time and takes the best plan by everything plans are compared by, of equals
 * the one with the lowest seed. As soon as one search proves its plan best the others are called off. Only the first
 * works on the bound: one proof serves all, and the others use their time to find what it is about.
 */
export async function searchSideBySide(
  pool: Piscina,
  { planCase, start, seed, seconds, othersSeconds = seconds, threads, callOff, signal, onBetter }: SideBySide,
): Promise<Result<FoundPlan, PlannerRefusal>> {
  if (signal?.aborted) return refuse({ kind: "planning-stopped" });
  const best = new BestOfAll(planCase, onBetter);
  const waiting = new Waiting(callOff, signal);
  const begun = Date.now();
  const searchOne = async (own: number, isFirst: boolean): Promise<SearchAnswer> => {
    const news = new MessageChannel();
    news.port1.on("message", (plan: Plan) => best.hear({ plan, seed: own }));
    try {
      const task: SearchTask = {
        planCase,
        ...(start && { start }),
        seed: own,
        until: begun + (isFirst ? seconds : othersSeconds) * 1000,
        leastSeconds: Math.min(seconds, LEAST_SECONDS),
        prove: isFirst,
        callOff: callOff.cells,
        news: news.port2,
      };
      const options = { name: "searchSeed", transferList: [news.port2], signal: waiting.threadEnd };
      const answer: SearchAnswer = await pool.run(task, options);
      best.hear({ plan: answer.plan, seed: own }, answer);
      if (answer.isBest) waiting.callOff();
      return answer;
    } finally {
      news.port1.close();
    }
  };
  const ends = await Promise.allSettled(
    Array.from({ length: threads }, (_, place) => searchOne((seed + place) % seeds, place === 0)),
  );
  waiting.over();
  if (signal?.aborted) return refuse({ kind: "planning-stopped" });
  const found = best.found(ends);
  if (found !== null) return ok(found);
  const failed = ends.find(({ status }) => status === "rejected");
  return refuse({ kind: "planner-failed", cause: failed?.status === "rejected" ? failed.reason : undefined });
}

/** Hears the plans of all searches and keeps the best. */
class BestOfAll {
  readonly #planCase: PlanCase;
  readonly #onBetter: ((better: SeededPlan) => void) | undefined;
  #best: (SeededPlan & { readonly cost: PlanCost }) | null = null;
  #bound = 0;
  #isBest = false;

  constructor(planCase: PlanCase, onBetter: ((better: SeededPlan) => void) | undefined) {
    this.#planCase = planCase;
    this.#onBetter = onBetter;
  }

  /** What any search proves holds for all: the best bound stands beside the best plan. */
  hear({ plan, seed }: SeededPlan, end?: SearchAnswer): void {
    this.#bound = Math.max(this.#bound, plan.bound);
    this.#isBest ||= end?.isBest ?? false;
    const cost = costPlan(this.#planCase, plan);
    const less = this.#best === null ? -1 : compareCosts(cost, this.#best.cost);
    if (less > 0 || (less === 0 && seed >= (this.#best?.seed ?? seed))) return;
    this.#best = { plan, cost, seed };
    if (less < 0) this.#onBetter?.({ plan: withBound(plan, this.#bound), seed });
  }

  /** Null where no search came to an end by itself. */
  found(ends: readonly PromiseSettledResult<SearchAnswer>[]): FoundPlan | null {
    const speeds = ends.flatMap((end) => (end.status === "fulfilled" ? [end.value.iterationsASecond] : []));
    if (this.#best === null || speeds.length === 0) return null;
    const { plan, seed } = this.#best;
    return {
      plan: withBound(plan, this.#bound),
      seed,
      isBest: this.#isBest,
      iterationsASecond: Math.max(...speeds),
    };
  }
}
