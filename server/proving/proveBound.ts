import type { Highs } from "highs";
import { ok, type Result, refuse } from "../basics/result.ts";
import { costGranule, roundedUp } from "../planning/bounds/costGranule.ts";
import type { PlanCase } from "../planning/case.ts";
import { Instance } from "../planning/search/instance.ts";
import { divide } from "./divide.ts";
import { endless, type LinearModel, TooManyCoefficients } from "./linearModel.ts";
import { mixedIntegerModel, mostCoefficients } from "./mixedIntegerModel.ts";
import { type Part, wholePart } from "./part.ts";
import { dualTolerance, loading, solverInput } from "./solver.ts";

/** Too large for the solver; a bound has to come from elsewhere. */
export interface TooLarge {
  readonly kind: "too-large";
  readonly mostCoefficients: number;
}

export interface ProvingOptions {
  /** Asked now and then with the bound so far, in unit-days; true ends the work. A long step of the solver is not cut short. */
  readonly isOver: (bound: number) => boolean;
  /** Told every bound that is higher than those before, in unit-days. */
  readonly onBetter?: (bound: number) => void;
}

/**
 * Settings of the solver. Plans are found by the search, so nothing is spent on finding any here. The model is not simplified
 * beforehand: its sums of runs and bowls would be lost, and it is by those that the bound rises. Nor is it searched for
 * what could change places: hardly two sessions are alike, and on fortnights the search takes a third of a second.
 */
const settings = {
  output_flag: false,
  presolve: "off",
  mip_detect_symmetry: false,
  mip_rel_gap: 0,
  mip_abs_gap: 1e-6,
  mip_heuristic_effort: 0,
  mip_heuristic_run_feasibility_jump: false,
  mip_heuristic_run_rins: false,
  mip_heuristic_run_rens: false,
  mip_heuristic_run_root_reduced_cost: false,
  mip_heuristic_run_zi_round: false,
  mip_heuristic_run_shifting: false,
  mip_feasibility_tolerance: 1e-6,
  dual_feasibility_tolerance: dualTolerance,
} as const;

/**
 * A lateness cost, in unit-days, that no allowed plan for the case can go below: the least cost of a mixed-integer program
 * of which every plan is a solution, as far as HiGHS has proven it by branch and cut until `isOver` says so. Blocks its
 * thread meanwhile. The memory of the solver is given back with its thread only.
 *
 * Refused where the model has more than `mostCoefficients` coefficients.
 */
export async function proveBound(
  planCase: PlanCase,
  options: ProvingOptions,
): Promise<Result<number, TooLarge>> {
  const instance = new Instance(planCase);
  const model = modelOf(instance);
  if (model === null) return refuse({ kind: "too-large", mostCoefficients });
  const bound = new SafeBound(instance, model, options.onBetter);
  // The solver refuses a model in which there is nothing to decide.
  if (model.most.length === 0) bound.hear(model.offset);
  else await solve(model, bound, options.isOver);
  return ok(bound.value);
}

function modelOf(instance: Instance): LinearModel | null {
  try {
    return mixedIntegerModel(instance);
  } catch (error) {
    if (error instanceof TooManyCoefficients) return null;
    throw error;
  }
}

/**
 * A part is given up for another that has become lower only when it is so much higher, and by a unit-day, and by as much again
 * with every try: what was learnt of it is lost.
 */
const lead = 0.02;

/** Proves first with fractions of pieces, which is quicker; where nothing more can be proven so, with whole ones. */
async function solve(
  model: LinearModel,
  bound: SafeBound,
  isOver: (bound: number) => boolean,
): Promise<void> {
  const highs = await loading;
  const parts = divide(
    highs,
    model,
    () => isOver(bound.value),
    (lowest) => bound.hear(lowest),
  );
  const solver = new PartSolver(highs, model, isOver, bound);
  if (!solver.solveAll(parts)) return;
  solver.solve(wholePart(Number.NEGATIVE_INFINITY), "all");
}

/** Proves of each part what it can by branch and cut, always of that which is lowest so far. */
class PartSolver {
  readonly #highs: Highs;
  readonly #model: LinearModel;
  readonly #isOver: (bound: number) => boolean;
  readonly #bound: SafeBound;

  constructor(highs: Highs, model: LinearModel, isOver: (bound: number) => boolean, bound: SafeBound) {
    this.#highs = highs;
    this.#model = model;
    this.#isOver = isOver;
    this.#bound = bound;
  }

  /** True when nothing more can be proven with fractions of pieces, false when the work is over. */
  solveAll(parts: readonly Part[]): boolean {
    const tries = new Map(parts.map((part) => [part, 0]));
    const solved = new Set<Part>();
    for (;;) {
      const [lowest, next] = [...parts].sort((one, other) => one.bound - other.bound);
      if (lowest === undefined) return true;
      this.#bound.hear(lowest.bound);
      if (this.#isOver(this.#bound.value)) return false;
      if (solved.has(lowest)) return true;
      const others = next?.bound ?? endless;
      const tried = tries.get(lowest)! + 1;
      tries.set(lowest, tried);
      const enough = others + tried * Math.max(1, lead * Math.abs(others));
      if (this.solve(lowest, "some", others, enough)) solved.add(lowest);
      else if (lowest.bound <= enough) return false;
    }
  }

  /**
   * Raises the bound of a part until it is more than `enough`; true when nothing more can be proven of it. In the parts
   * besides there is no plan that costs less than `others`.
   */
  solve(part: Part, whole: "some" | "all", others = endless, enough = endless): boolean {
    const { callbackType, modelStatus } = this.#highs.constants;
    const input = solverInput(this.#model, part, whole, this.#highs.infinity);
    return this.#highs.withModel(input, (solver) => {
      const hear = (proven: number) => {
        if (Number.isFinite(proven)) part.bound = Math.max(part.bound, proven);
        this.#bound.hear(Math.min(part.bound, others));
      };
      const stopWhenOver = (event: { interrupt(): void }): undefined => {
        if (part.bound > enough || this.#isOver(this.#bound.value)) event.interrupt();
      };
      solver.options.set(settings);
      const answer = solver.run({
        [callbackType.mipInterrupt]: (event): undefined => {
          hear(event.data.mip_dual_bound ?? Number.NEGATIVE_INFINITY);
          stopWhenOver(event);
        },
        [callbackType.simplexInterrupt]: stopWhenOver,
      });
      if (answer.modelStatus === modelStatus.infeasible) part.bound = endless;
      else if (answer.modelStatus === modelStatus.optimal) hear(Number(solver.info.get("mip_dual_bound")));
      else return false;
      return true;
    });
  }
}

/**
 * What the solver says, made safe. It reckons in binary fractions and takes a row or a whole number as kept when it is
 * nearly kept. That alone only lets more solutions in, and lowers what it proves. What could raise it is that the prices
 * behind a bound may be wrong by the dual tolerance for each unit of each column: so much is taken off for all that
 * columns can be at most, and a little for sums that are not exact. The rest is rounded up to the next cost there is.
 */
class SafeBound {
  value = 0;
  readonly #granule: number;
  readonly #doubt: number;
  readonly #onBetter: ((bound: number) => void) | undefined;

  constructor(instance: Instance, { most }: LinearModel, onBetter: ((bound: number) => void) | undefined) {
    this.#granule = costGranule(instance);
    this.#doubt = dualTolerance * most.reduce((sum, each) => sum + each, 0);
    this.#onBetter = onBetter;
  }

  /** @param proven the solver's own bound; without one it is infinite. */
  hear(proven: number): void {
    if (!Number.isFinite(proven)) return;
    const safe = proven - this.#doubt - 1e-6 * Math.max(1, Math.abs(proven));
    const bound = roundedUp(safe, this.#granule);
    if (bound <= this.value) return;
    this.value = bound;
    this.#onBetter?.(bound);
  }
}
