import type { Order, PlanCase } from "../../server/planning/case.ts";
import type { Plan } from "../../server/planning/plan.ts";
import { planCase } from "../../server/planning/planCase.ts";
import { promise } from "../../server/planning/questions/promise.ts";
import { whatHoldsUp } from "../../server/planning/questions/whatHoldsUp.ts";
import { afterIterations, type Stop } from "../../server/planning/stop.ts";
import { CallOff } from "../../server/plans/callOff.ts";
import { promiseBesideOthers, promiseEffort } from "../../server/plans/promiseTask.ts";
import { proveBound } from "../../server/proving/proveBound.ts";
import { caseFromJson } from "../planning/caseFiles.ts";
import { tinyCase } from "../planning/exhaustiveCases.ts";
import { exhaustiveSearch } from "../planning/exhaustiveSearch.ts";
import { type JsonCase, type JsonPlan, judge } from "../planning/independentChecker.ts";
import { solveMip } from "../planning/outside/solveMip.ts";
import { readOrderFile } from "./orderFile.ts";
import { processorSeconds } from "./processorSeconds.ts";

/** One search of the planner. Times are seconds of the processor where nothing else is said. */
export interface PlanRun {
  readonly seed: number;
  readonly cost: number;
  readonly handMinutes: number;
  readonly bound: number;
  /** Every better plan, from the first on. */
  readonly better: readonly { readonly seconds: number; readonly cost: number }[];
  /** Until the first plan, by the clock: what compiles code beside the search takes the processor's time, but nobody waits for it. */
  readonly firstClockSeconds: number;
  readonly seconds: number;
  readonly moves: number;
}

/** What the general solver made of a case. */
export interface HighsRun {
  /** Null where it found no plan. */
  readonly cost: number | null;
  readonly handMinutes: number | null;
  readonly bound: number;
  readonly proven: boolean;
  readonly better: readonly { readonly seconds: number; readonly cost: number }[];
  readonly seconds: number;
}

/** What the prover proved about a case. */
export interface ProofRun {
  /** What was proven within the time; null where the case is too large for it. */
  readonly bound: number | null;
  /** Seconds until then. */
  readonly seconds: number;
}

/** What one seed makes of all the tiny cases. */
export interface TinyRun {
  readonly seed: number;
  readonly cases: number;
  readonly best: number;
  readonly boundTight: number;
  /** Most seconds one case took. */
  readonly slowest: number;
}

export interface QuestionRun {
  readonly seed: number;
  /** Of the processor. */
  readonly seconds: number;
  /** By the clock, as whoever asked sees it. */
  readonly clockSeconds: number;
}

/** Seconds of one question while an order is typed. */
export interface TypingRun {
  readonly seed: number;
  readonly current: number;
  readonly outOfDate: number;
}

/** Moves for each re-plan behind a question, as the server gives. */
const replanMoves = 1_000;
/** Moves for a promise. */
const promiseMoves = 4_000;

/** What may be asked of a process of its own, so that memory is each case's own and nothing warms up for the next. */
export const tasks = {
  /** Searches in pairs: the first of each works on the bound too, as one of several side by side does. */
  plan: ({ json, seeds, seconds }: { json: JsonCase; seeds: readonly number[]; seconds: number }) =>
    Promise.resolve(seeds.map((seed, at) => planned(json, caseFromJson(json), seed, seconds, at % 2 === 0))),

  highs: async ({ json, seconds }: { json: JsonCase; seconds: number }): Promise<HighsRun> => {
    const answer = await solveMip(json, seconds, processorSeconds);
    if (answer.plan !== null) expectAllowed(json, answer.plan);
    return {
      cost: answer.plan?.cost ?? null,
      handMinutes: answer.plan?.handMinutes ?? null,
      bound: answer.bound,
      proven: answer.costProven,
      better: answer.better,
      seconds: answer.seconds,
    };
  },

  prove: ({ json, seconds }: { json: JsonCase; seconds: number }) => proved(json, seconds),

  tiny: ({ cases, seeds, seconds }: { cases: number; seeds: readonly number[]; seconds: number }) => {
    const all = Array.from({ length: cases }, (_, seed) => {
      const json = tinyCase(seed);
      return { json, parsed: caseFromJson(json), best: exhaustiveSearch(json) };
    });
    return Promise.resolve(
      seeds.map((seed): TinyRun => {
        const runs = all.map(({ json, parsed, best }) => ({
          best,
          run: planned(json, parsed, seed, seconds),
        }));
        return {
          seed,
          cases,
          best: runs.filter(
            ({ best, run }) => isSame(run.cost, best.cost) && isSame(run.handMinutes, best.handMinutes),
          ).length,
          boundTight: runs.filter(({ best, run }) => isSame(run.bound, best.cost)).length,
          slowest: Math.max(...runs.map(({ run }) => run.seconds)),
        };
      }),
    );
  },

  tinyHighs: async ({ cases, seconds }: { cases: number; seconds: number }) => {
    let proven = 0;
    let agree = 0;
    let spent = 0;
    for (let seed = 0; seed < cases; seed++) {
      const json = tinyCase(seed);
      const answer = await solveMip(json, seconds, processorSeconds);
      spent += answer.seconds;
      if (answer.minutesProven) proven += 1;
      if (answer.plan !== null && isSame(answer.plan.cost, exhaustiveSearch(json).cost)) agree += 1;
    }
    return { cases, proven, agree, seconds: spent };
  },

  tinyProofs: async ({ cases, seconds }: { cases: number; seconds: number }) => {
    const runs = [];
    for (let seed = 0; seed < cases; seed++) {
      const json = tinyCase(seed);
      runs.push({ best: exhaustiveSearch(json).cost, proof: await proved(json, seconds) });
    }
    return {
      cases,
      tight: runs.filter(({ best, proof }) => isSame(proof.bound ?? 0, best)).length,
      slowest: Math.max(...runs.map(({ proof }) => proof.seconds)),
    };
  },

  holdUps: ({ json, seeds, seconds }: { json: JsonCase; seeds: readonly number[]; seconds: number }) =>
    Promise.resolve(
      seeds.map((seed) =>
        timed(json, seed, seconds, (parsed, plan) =>
          whatHoldsUp(parsed, { seed, plan, effort: () => afterIterations(replanMoves) }),
        ),
      ),
    ),

  promise: ({ json, seeds, seconds }: { json: JsonCase; seeds: readonly number[]; seconds: number }) =>
    Promise.resolve(
      seeds.map((seed) =>
        timed(json, seed, seconds, (parsed, plan) =>
          promise(parsed, orderLike(parsed, seed), {
            seed,
            plan,
            wished: null,
            stop: afterIterations(promiseMoves),
          }),
        ),
      ),
    ),

  typing: ({ json, seeds, seconds }: { json: JsonCase; seeds: readonly number[]; seconds: number }) =>
    Promise.resolve(seeds.map((seed) => typed(json, seed, seconds))),

  orderFile: ({ lines, linesAnOrder, seed }: { lines: number; linesAnOrder: number; seed: number }) =>
    Promise.resolve(readOrderFile(lines, linesAnOrder, seed)),
} as const;

export type Tasks = typeof tasks;

function planned(json: JsonCase, parsed: PlanCase, seed: number, seconds: number, prove = true): PlanRun {
  const better: { seconds: number; cost: number }[] = [];
  const begun = processorSeconds();
  const begunAt = performance.now();
  const since = () => processorSeconds() - begun;
  let moves = 0;
  let firstClockSeconds = Number.NaN;
  const stop: Stop = {
    progress: (iterations) => {
      moves = iterations;
      return since() / seconds;
    },
  };
  const onBetter = ({ cost }: Plan) => {
    if (better.length === 0) firstClockSeconds = (performance.now() - begunAt) / 1_000;
    better.push({ seconds: since(), cost });
  };
  const plan = planCase(parsed, { seed, stop, prove, onBetter });
  const spent = since();
  expectAllowed(json, plan as unknown as JsonPlan);
  return {
    seed,
    cost: plan.cost,
    handMinutes: plan.handMinutes,
    bound: plan.bound,
    better,
    firstClockSeconds,
    seconds: spent,
    moves,
  };
}

async function proved(json: JsonCase, seconds: number): Promise<ProofRun> {
  const begun = processorSeconds();
  const since = () => processorSeconds() - begun;
  let bound = 0;
  const answer = await proveBound(caseFromJson(json), {
    isOver: () => since() >= seconds,
    // The solver looks at the clock now and then only: what it proves too late does not count.
    onBetter: (better) => {
      if (since() < seconds) bound = better;
    },
  });
  return { bound: answer.ok ? bound : null, seconds: since() };
}

/** A number in the table is of a plan that keeps every rule, or there is no table. */
function expectAllowed(json: JsonCase, plan: JsonPlan): void {
  const { complaints } = judge(json, plan);
  if (complaints.length > 0)
    throw new Error(`${json.name}: ${complaints.map((each) => each.join(" ")).join("; ")}`);
}

function isSame(one: number, other: number): boolean {
  return Math.abs(one - other) < 1e-6 * Math.max(1, other);
}

/** Seconds a question about a finished plan takes. */
function timed(
  json: JsonCase,
  seed: number,
  seconds: number,
  ask: (parsed: PlanCase, plan: Plan) => unknown,
): QuestionRun {
  const parsed = caseFromJson(json);
  const plan = planCase(parsed, { seed, stop: afterProcessorSeconds(seconds) });
  const asked = processorSeconds();
  const askedAt = performance.now();
  ask(parsed, plan);
  const clockSeconds = (performance.now() - askedAt) / 1_000;
  return { seed, seconds: processorSeconds() - asked, clockSeconds };
}

/** Processor seconds of the server's work for a promise, with the plan as it is and with one to be brought up to date. */
function typed(json: JsonCase, seed: number, seconds: number): TypingRun {
  const planCaseOfFile = caseFromJson(json);
  const decisions = planCase(planCaseOfFile, { seed, stop: afterProcessorSeconds(seconds) });
  const ask = (isCurrent: boolean) => {
    const begun = processorSeconds();
    promiseBesideOthers({
      planCase: planCaseOfFile,
      newOrder: orderLike(planCaseOfFile, seed),
      wished: [...new Set(json.sessions.map(({ date }) => date))][2] ?? null,
      decisions,
      isCurrent,
      seed,
      ...promiseEffort(8),
      callOff: new CallOff().cells,
    });
    return processorSeconds() - begun;
  };
  return { seed, current: ask(true), outOfDate: ask(false) };
}

function afterProcessorSeconds(seconds: number): Stop {
  const begun = processorSeconds();
  return { progress: () => (processorSeconds() - begun) / seconds };
}

/** A new order that wants what one of the accepted ones wants. */
function orderLike({ orders }: PlanCase, seed: number): Order {
  const order = orders[seed % orders.length];
  if (order === undefined) throw new Error("a case without orders");
  return { ...order, id: "the new one" };
}
