import { availableParallelism } from "node:os";
import { Piscina } from "piscina";
import { ok, type Result, refuse } from "../basics/result.ts";
import { argumentsFor, codeBeside } from "../basics/threadCode.ts";
import type { PlanCase } from "../planning/case.ts";
import type { LateReason } from "../planning/explainPlan.ts";
import type { Decisions, Plan } from "../planning/plan.ts";
import { Proof } from "../proving/proof.ts";
import { CallOff, Waiting } from "./callOff.ts";
import type { HoldUpAnswer, HoldUpTask, ReasonTask } from "./planWorker.ts";
import { type PromiseAnswer, type PromiseTask, promiseEffort } from "./promiseTask.ts";
import { type FoundPlan, type SeededPlan, searchSideBySide } from "./searchSideBySide.ts";

/** Why there is no plan although the case is right. */
export type PlannerRefusal =
  /** The planner's threads ended or failed. */
  | { readonly kind: "planner-failed"; readonly cause: unknown }
  /** As much is waited for as the server takes on at once. */
  | { readonly kind: "planner-busy" }
  /** Whoever asked no longer waits. */
  | { readonly kind: "planning-stopped" };

export interface SearchOptions {
  readonly seed: number;
  /** Decisions to start from, so that nothing moves without need; a plan from nothing where left out. */
  readonly start?: Decisions;
  /** Wall-clock time of the search; what the planner was made with where left out. */
  readonly seconds?: number;
  /** The same of all searches but the first, where they are to leave their cores to others earlier. */
  readonly othersSeconds?: number;
  /** Searches side by side; as many as the planner was made for where left out. */
  readonly threads?: number;
  /** Calls the search off, in all its threads. */
  readonly signal?: AbortSignal;
  /** Told each plan that is better than all before it, the first one soon. */
  readonly onBetter?: (better: SeededPlan) => void;
  /** Lets a test see whether anybody still searches. */
  readonly callOff?: CallOff;
}

/** Plans cases in threads of its own. */
export interface Planner {
  /** Wall-clock time of a search that is not told another; it ends earlier when the plan is proven best. */
  readonly searchSeconds: number;
  /** Looks for the best plan with several seeds side by side. */
  search(planCase: PlanCase, options: SearchOptions): Promise<Result<FoundPlan, PlannerRefusal>>;
  /** When a core is free for a proof of how good a plan is: while the search runs, after it, or never. */
  readonly proves: "beside-search" | "after-search" | "never";
  /** Begins such a proof; whoever asks ends it. */
  prove(planCase: PlanCase, knownCost: number, onBetter: (bound: number) => void): Proof;
  /** What holds the workshop up in a plan that was found, and a better plan where one turned up while asking. */
  askHoldUps(
    planCase: PlanCase,
    found: FoundPlan,
    options: { readonly signal?: AbortSignal },
  ): Promise<Result<HoldUpAnswer, PlannerRefusal>>;
  /** Why orders are late; the thread is ended where that takes longer than a page may. */
  giveReasons(planCase: PlanCase, plan: Plan): Promise<Result<readonly LateReason[], PlannerRefusal>>;
  /** When an order can be promised; a matter of less than a second. */
  givePromise(
    question: PromiseRequest,
    options: { readonly signal: AbortSignal },
  ): Promise<Result<PromiseAnswer, PlannerRefusal>>;
  /** Ends the threads, also in the middle of a plan. */
  close(): Promise<void>;
}

/** A promise that is asked for, without how it is called off. */
export type PromiseRequest = Omit<PromiseTask, "callOff" | "planSeconds" | "promiseSeconds">;

interface PlannerOptions {
  readonly searchSeconds?: number;
  /** Most wall-clock time for finding out what holds the workshop up. */
  readonly holdUpSeconds?: number;
  /** Searches side by side; as many as the machine has cores for where left out. */
  readonly threads?: number;
  /** When a plan is proven; by the cores of the machine where left out. */
  readonly proves?: Planner["proves"];
  /**
   * Whether threads start at once and stay, so that the first question need not wait for them, and one that waits gets
   * another where its thread had to be ended. Without it threads start with the next question.
   */
  readonly warm?: boolean;
  /** The threads' code; ours where left out. */
  readonly worker?: URL;
}

/** More seeds than this find hardly anything that fewer do not, and each takes memory. */
const MOST_SEARCHES = 8;

/** Tasks that may wait for a thread; each takes a few seconds. */
const MOST_WAITING = 10;

/** What a page waits for its reasons; it does without them then. */
const REASON_MS = 3_000;

/** Threads keep a while, as one question seldom comes alone. */
const IDLE_MS = 60_000;

export function createPlanner(options: PlannerOptions = {}): Planner {
  const { searchSeconds = 8, holdUpSeconds = 4, threads = coresFor(MOST_SEARCHES) } = options;
  const pool = startThreads(
    threads,
    options.warm ?? false,
    options.worker ?? codeBeside(import.meta.filename, "planWorker"),
  );
  const isBusy = () => pool.queueSize >= MOST_WAITING;
  return {
    searchSeconds,
    proves: options.proves ?? momentToProve(),
    prove: (planCase, knownCost, onBetter) => new Proof(planCase, knownCost, onBetter),
    async search(planCase, asked) {
      if (isBusy()) return refuse({ kind: "planner-busy" });
      const usual = { seconds: searchSeconds, threads, callOff: new CallOff() };
      return await searchSideBySide(pool, { ...usual, ...asked, planCase });
    },
    async askHoldUps(planCase, { plan, seed, iterationsASecond }, { signal }) {
      if (isBusy()) return refuse({ kind: "planner-busy" });
      const callOff = new CallOff();
      const { cells } = callOff;
      const task: HoldUpTask = {
        planCase,
        plan,
        seed,
        seconds: holdUpSeconds,
        iterationsASecond,
        callOff: cells,
      };
      return await runOne<HoldUpAnswer>(pool, "askHoldUps", task, new Waiting(callOff, signal), signal);
    },
    async giveReasons(planCase, plan) {
      if (isBusy()) return refuse({ kind: "planner-busy" });
      const task: ReasonTask = { planCase, plan };
      const late = AbortSignal.timeout(REASON_MS);
      return await runOne(pool, "giveReasons", task, new Waiting(new CallOff(), late), late);
    },
    async givePromise(question, { signal }) {
      if (isBusy()) return refuse({ kind: "planner-busy" });
      const callOff = new CallOff();
      const task: PromiseTask = { ...question, ...promiseEffort(searchSeconds), callOff: callOff.cells };
      return await runOne<PromiseAnswer>(pool, "givePromise", task, new Waiting(callOff, signal), signal);
    },
    close: () => pool.destroy(),
  };
}

/** One core stays with the server where there are enough. */
function coresFor(most: number): number {
  const cores = availableParallelism();
  return Math.min(most, cores > 2 ? cores - 1 : cores);
}

/** With two cores both search, and one is free while it is asked what holds the workshop up. */
function momentToProve(): Planner["proves"] {
  const cores = availableParallelism();
  if (cores > 2) return "beside-search";
  return cores === 2 ? "after-search" : "never";
}

/** One thread more than searches run side by side: a short question need not wait for a long one. */
function startThreads(searches: number, warm: boolean, worker: URL): Piscina {
  const pool = new Piscina({
    minThreads: warm ? searches : 0,
    maxThreads: searches + 1,
    idleTimeout: IDLE_MS,
    maxQueue: MOST_WAITING + searches,
    filename: worker.href,
    name: "searchSeed",
    execArgv: argumentsFor(worker),
  });
  // A thread that ends between two plans is started anew by the next; without a listener it would end the server.
  pool.on("error", () => {});
  return pool;
}

async function runOne<Answer>(
  pool: Piscina,
  name: string,
  task: HoldUpTask | ReasonTask | PromiseTask,
  waiting: Waiting,
  signal: AbortSignal | undefined,
): Promise<Result<Answer, PlannerRefusal>> {
  try {
    return ok(await pool.run(task, { name, signal: waiting.threadEnd }));
  } catch (cause) {
    return refuse(signal?.aborted ? { kind: "planning-stopped" } : { kind: "planner-failed", cause });
  } finally {
    waiting.over();
  }
}
