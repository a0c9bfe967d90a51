import { LowerBound } from "./bounds/lowerBound.ts";
import { leastTicksToServeAll } from "./bounds/minutesBound.ts";
import type { PlanCase } from "./case.ts";
import { checkPlan } from "./checkPlan.ts";
import { costPlan, totalHandMinutes } from "./costPlan.ts";
import type { Decisions, Plan } from "./plan.ts";
import { anneal } from "./search/anneal.ts";
import type { Best } from "./search/best.ts";
import { build } from "./search/build.ts";
import { Instance } from "./search/instance.ts";
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
  /** False where only a plan is wanted; the plan's bound is then what each order alone proves. */
  readonly prove?: boolean;
  /** Called with the first plan, then with better ones, at most some hundred times, and with the best before the end. */
  readonly onBetter?: (plan: Plan) => void;
}

/**
 * Plans a case: the best plan found before the stop, with a proven bound. Ends before the stop when the plan is proven
 * best in lateness and in hand minutes. Never gives a plan that breaks a rule.
 */
export function planCase(planCase: PlanCase, options: PlanOptions): Plan {
  const instance = new Instance(planCase);
  const schedule = new Schedule(instance);
  const started = options.start !== undefined && readDecisions(planCase, options.start, schedule);
  if (!started) build(schedule, new Random(options.seed));
  const { cells } = schedule;
  const proving = new Proving(instance, options.prove ?? true);
  const finish = (kept: Float64Array, bound: number) =>
    finishPlan(planCase, writeDecisions(planCase, schedule, kept), bound);

  const reports = new Reports(instance, (kept) => options.onBetter?.(finish(kept, proving.soFar)));
  reports.hear(cells);
  reports.send(0);
  proving.hear({ cost: cells[schedule.cost]!, ticks: cells[schedule.ticks]! });
  const stop = proving.stop(options.stop);
  const watched: Stop = {
    progress(iterations) {
      const progress = stop.progress(iterations);
      reports.send(progress);
      return progress;
    },
  };
  const best = anneal(schedule, {
    seed: options.seed,
    isGood: started,
    stop: watched,
    isLeast: (cost) => proving.isLeast(cost),
    onBetter(better) {
      proving.hear(better);
      reports.hear(better.cells);
    },
  });

  const plan = finish(best.cells, proving.bound.value);
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

/**
 * Least share of the search between two reports: writing a plan out costs as much as many moves, and more where a case
 * has many lines and sessions, beyond these cells in proportion.
 */
const reportStep = 0.005;
const reportCells = 20_000;

/** Passes better plans on, but not each of them. */
class Reports {
  readonly #report: (cells: Float64Array) => void;
  #waiting: Float64Array | null = null;
  readonly #step: number;
  #next = 0;

  constructor({ lines, sessions }: Instance, report: (cells: Float64Array) => void) {
    this.#report = report;
    this.#step = reportStep * Math.max(1, (lines * sessions) / reportCells);
  }

  hear(cells: Float64Array): void {
    this.#waiting = cells;
  }

  send(progress: number): void {
    if (this.#waiting === null || (progress < this.#next && progress < 1)) return;
    const cells = this.#waiting;
    this.#waiting = null;
    this.#next = progress + this.#step;
    this.#report(cells);
  }
}

/** Shares of the search at which the bound is worked on, so that proof and plan grow side by side. */
const provingTimes = [0, 0.1, 0.25, 0.45, 0.7, 0.9];

/** Work of one round of proving, in offers priced: some hundredths of a second, a tenth of a search of two in all. */
const roundWork = 80_000;

/** A round is done in so many parts, one before each move, so that a stop never waits for a whole one. */
const roundParts = 20;

/** Works on the bound while the search runs, and ends the search when there is nothing left to find. */
class Proving {
  readonly #instance: Instance;
  #bound: LowerBound | null = null;
  readonly #leastTicks: number;
  readonly #iterations: number;
  #cost = Number.POSITIVE_INFINITY;
  #ticks = Number.POSITIVE_INFINITY;
  #rounds = 0;
  /** Iterations that are due and not done yet. */
  #owed = 0;

  constructor(instance: Instance, prove: boolean) {
    this.#instance = instance;
    this.#leastTicks = leastTicksToServeAll(instance);
    const size = 1 + instance.lines * instance.sessions * 4;
    this.#iterations = prove ? Math.min(400, Math.max(4, Math.floor(roundWork / size))) : 0;
  }

  /** What is proven, with what each order alone proves at least. */
  get bound(): LowerBound {
    this.#bound ??= new LowerBound(this.#instance);
    return this.#bound;
  }

  /** What is proven so far: nothing before the first look, so that the first plan need not wait for it. */
  get soFar(): number {
    return this.#bound?.value ?? 0;
  }

  /** Whether no plan can cost less, as far as is proven so far. */
  isLeast(cost: number): boolean {
    return cost === 0 || (this.#bound?.proves(cost) ?? false);
  }

  hear(better: Pick<Best, "cost" | "ticks">): void {
    this.#cost = better.cost;
    this.#ticks = better.ticks;
  }

  stop(given: Stop): Stop {
    return {
      progress: (iterations) => {
        if (this.#cost === 0 && this.#ticks <= this.#leastTicks) return 1;
        const progress = given.progress(iterations);
        if (progress >= 1) return progress;
        const due = provingTimes[this.#rounds];
        if (due !== undefined && progress >= due) {
          this.#rounds += 1;
          this.#owed += this.#iterations;
        }
        if (this.#owed > 0) {
          const part = Math.min(this.#owed, Math.ceil(this.#iterations / roundParts));
          this.#owed -= part;
          this.bound.improve(part, this.#cost);
        }
        return progress;
      },
    };
  }
}
