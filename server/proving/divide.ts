import type { Highs, Model } from "highs";
import type { LinearModel } from "./linearModel.ts";
import { limitsIn, type Part, wholePart } from "./part.ts";
import { dualTolerance, solverInput } from "./solver.ts";

/** Beyond so many coefficients, more than a week has, a relaxation takes longer than what is learnt from it is worth. */
const mostCoefficientsDivided = 15_000;
/** Each part has to be gone through afterwards. */
const mostParts = 12;
/** Decisions tried for one division. */
const mostTried = 12;
/** Divided on while so many divisions in a row raise the bound by at least such a share, and only kept when all together did. */
const divisionsInARow = 3;
const leastGain = 0.02;
/** How near to a whole number is whole. */
const nearlyWhole = 1e-4;

/** What the plans of a part cost at least when nothing has to be whole, and where in the columns. */
interface Relaxed {
  readonly cost: number;
  readonly columns: ArrayLike<number>;
}

interface Leaf extends Part {
  readonly columns: ArrayLike<number>;
}

interface Split {
  readonly column: number;
  readonly below: Relaxed;
  readonly above: Relaxed;
}

/**
 * Divides all plans into parts by the decisions that raise the bound most: how many runs a session or a blend has, how many
 * bowls there are by a day, on which day an order is ready. Of some decisions each is tried out (strong branching), with the
 * relaxation alone, which is solved in hundredths of a second; the solver, left to itself, tries out every column that should
 * be whole and has seldom come to a second division when the time is over.
 *
 * Source: D. Applegate, R. Bixby, V. Chvátal, W. Cook, "Finding cuts in the TSP", DIMACS report 95-05 (1995). From memory.
 *
 * @param onBound told the least bound of all parts, each time it may have risen.
 * @returns parts that together hold all plans: a single one where dividing is of no use.
 */
export function divide(
  highs: Highs,
  model: LinearModel,
  isOver: () => boolean,
  onBound: (bound: number) => void,
): Part[] {
  if (model.columns.length > mostCoefficientsDivided) return [wholePart(Number.NEGATIVE_INFINITY)];
  const input = solverInput(model, wholePart(0), "none", highs.infinity);
  return highs.withModel(input, (solver) => new Division(highs, solver, model, isOver).parts(onBound));
}

class Division {
  readonly #highs: Highs;
  readonly #solver: Model;
  readonly #model: LinearModel;
  readonly #isOver: () => boolean;
  /** By decision: what it raised the bound by when it was tried last. */
  readonly #gains = new Map<number, number>();

  constructor(highs: Highs, solver: Model, model: LinearModel, isOver: () => boolean) {
    this.#highs = highs;
    this.#solver = solver;
    this.#model = model;
    this.#isOver = isOver;
    solver.options.set({
      output_flag: false,
      presolve: "off",
      solver: "simplex",
      dual_feasibility_tolerance: dualTolerance,
    });
  }

  parts(onBound: (bound: number) => void): Part[] {
    const whole = this.#relax();
    if (whole === null) return [wholePart(Number.NEGATIVE_INFINITY)];
    let leaves: Leaf[] = [{ ...wholePart(whole.cost), columns: whole.columns }];
    const bounds = [whole.cost];
    onBound(whole.cost);
    while (leaves.length > 0 && leaves.length < mostParts) {
      const [lowest, ...others] = leaves as [Leaf, ...Leaf[]];
      const split = this.#bestSplit(lowest);
      if (split === null) break;
      leaves = [...others, ...halves(lowest, split)].sort((one, other) => one.bound - other.bound);
      const bound = leaves[0]?.bound ?? lowest.bound;
      bounds.push(bound);
      onBound(bound);
      const before = bounds.at(-1 - divisionsInARow);
      if (before !== undefined && !isMuchMore(bound, before)) break;
    }
    if (!isMuchMore(bounds.at(-1)!, whole.cost)) return [wholePart(whole.cost)];
    return leaves.map(({ least, most, bound }) => ({ least, most, bound }));
  }

  /** The split whose cheaper half costs most; null where nothing is to decide, or no time is left. */
  #bestSplit(leaf: Leaf): Split | null {
    this.#limitAsIn(leaf, leaf);
    let best: Split | null = null;
    for (const column of this.#undecided(leaf).slice(0, mostTried)) {
      const split = this.#isOver() ? null : this.#split(leaf, column);
      if (split === null) {
        best = null;
        break;
      }
      this.#gains.set(column, lesser(split) - leaf.bound);
      if (best === null || lesser(split) > lesser(best)) best = split;
    }
    this.#limitAsIn(wholePart(0), leaf);
    return best;
  }

  /** Decisions that are not whole in the leaf: first those never tried, then those that gained most. */
  #undecided({ columns }: Leaf): number[] {
    const offWhole = (column: number) => Math.abs(columns[column]! - Math.round(columns[column]!));
    const promise = (column: number) => this.#gains.get(column) ?? Number.MAX_VALUE;
    return this.#model.decisions
      .filter((column) => offWhole(column) > nearlyWhole)
      .sort((one, other) => promise(other) - promise(one) || offWhole(other) - offWhole(one));
  }

  #split(leaf: Leaf, column: number): Split | null {
    const [least, most] = limitsIn(leaf, this.#model, column);
    const below = this.#relaxWithin(column, least, Math.floor(leaf.columns[column]!));
    const above = below === null ? null : this.#relaxWithin(column, Math.ceil(leaf.columns[column]!), most);
    this.#limit(column, least, most);
    return below === null || above === null ? null : { column, below, above };
  }

  #relaxWithin(column: number, least: number, most: number): Relaxed | null {
    this.#limit(column, least, most);
    return this.#relax();
  }

  /** Null where the solver was interrupted or gave up. */
  #relax(): Relaxed | null {
    const { callbackType, modelStatus } = this.#highs.constants;
    const answer = this.#solver.run({
      [callbackType.simplexInterrupt]: (event): undefined => {
        if (this.#isOver()) event.interrupt();
      },
    });
    if (answer.modelStatus === modelStatus.infeasible) return { cost: Number.POSITIVE_INFINITY, columns: [] };
    if (answer.modelStatus !== modelStatus.optimal) return null;
    const cost = Number(this.#solver.info.get("objective_function_value"));
    return { cost, columns: this.#solver.getSolution().colValue };
  }

  /** Sets the limits of one part for all columns that another one limits. */
  #limitAsIn(part: Part, { least, most }: Part): void {
    for (const column of [...least.keys(), ...most.keys()]) {
      this.#limit(column, ...limitsIn(part, this.#model, column));
    }
  }

  #limit(column: number, least: number, most: number): void {
    this.#solver.changeColBounds(column, least, Math.min(most, this.#highs.infinity));
  }
}

function isMuchMore(bound: number, before: number): boolean {
  return bound > before + leastGain * Math.abs(before);
}

function lesser({ below, above }: Split): number {
  return Math.min(below.cost, above.cost);
}

/** Those halves of a leaf in which there can be a plan. */
function halves(leaf: Leaf, { column, below, above }: Split): Leaf[] {
  const { least, most, bound } = leaf;
  const at = leaf.columns[column]!;
  return [
    { least, most: new Map(most).set(column, Math.floor(at)), relaxed: below },
    { least: new Map(least).set(column, Math.ceil(at)), most, relaxed: above },
  ]
    .filter(({ relaxed }) => Number.isFinite(relaxed.cost))
    .map(({ relaxed, ...limits }) => ({
      ...limits,
      bound: Math.max(bound, relaxed.cost),
      columns: relaxed.columns,
    }));
}
