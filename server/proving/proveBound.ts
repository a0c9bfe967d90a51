import loadHighs from "highs";
import { ok, type Result, refuse } from "../basics/result.ts";
import { costGranule, roundedUp } from "../planning/bounds/costGranule.ts";
import type { PlanCase } from "../planning/case.ts";
import { compileCase, type Instance } from "../planning/search/instance.ts";
import { type LinearModel, TooManyCoefficients } from "./linearModel.ts";
import { mixedIntegerModel, mostCoefficients } from "./mixedIntegerModel.ts";

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
 * beforehand: its sums of runs and bowls would be lost, and it is by those that the bound rises.
 */
const settings = {
  output_flag: false,
  presolve: "off",
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
  dual_feasibility_tolerance: 1e-7,
} as const;

/** The package's types describe a CommonJS default; what Node loads is the module's own. */
const loading = (loadHighs as unknown as typeof loadHighs.default)();

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
  const instance = compileCase(planCase);
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

/** Proves first with fractions of pieces, which is quicker; where nothing more can be proven so, with whole ones. */
async function solve(
  model: LinearModel,
  bound: SafeBound,
  isOver: (bound: number) => boolean,
): Promise<void> {
  const highs = await loading;
  highs.withModel(forSolver(model, highs.infinity), (solver) => {
    const { callbackType, modelStatus, variableType } = highs.constants;
    const stopWhenOver = (event: { interrupt(): void }): undefined => {
      if (isOver(bound.value)) event.interrupt();
    };
    const isSolved = () => {
      const answer = solver.run({
        [callbackType.mipInterrupt]: (event): undefined => {
          bound.hear(event.data.mip_dual_bound ?? Number.NEGATIVE_INFINITY);
          stopWhenOver(event);
        },
        [callbackType.simplexInterrupt]: stopWhenOver,
      });
      const solved = answer.modelStatus === modelStatus.optimal;
      if (solved) bound.hear(Number(solver.info.get("mip_dual_bound")));
      return solved;
    };
    solver.options.set(settings);
    if (!isSolved() || isOver(bound.value)) return;
    solver.changeColsIntegrality(
      { kind: "range", from: 0, to: model.most.length - 1 },
      model.most.map(() => variableType.integer),
    );
    isSolved();
  });
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
    this.#doubt = settings.dual_feasibility_tolerance * most.reduce((sum, each) => sum + each, 0);
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

function forSolver(model: LinearModel, infinity: number) {
  const limits = (list: readonly number[]) =>
    list.map((value) => (Number.isFinite(value) ? value : Math.sign(value) * infinity));
  const { most, rowLeast, rowMost, starts, columns, factors } = model;
  return {
    numCols: most.length,
    numRows: rowLeast.length,
    offset: model.offset,
    colCost: model.cost,
    colLower: most.map(() => 0),
    colUpper: limits(most),
    rowLower: limits(rowLeast),
    rowUpper: limits(rowMost),
    matrix: {
      format: "csr" as const,
      numRows: rowLeast.length,
      numCols: most.length,
      starts,
      indices: columns,
      values: factors,
    },
    integrality: model.isWhole.map((isWhole) => (isWhole ? (1 as const) : (0 as const))),
  };
}
