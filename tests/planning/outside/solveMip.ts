import loadHighs from "highs";
import { type JsonCase, type JsonPlan, judge } from "../independentChecker.ts";
import { type PlainCase, readPlainly } from "../plainReading.ts";
import { writePlainPlan } from "../writePlainPlan.ts";
import { type Column, type MipModel, mipModel } from "./mipModel.ts";

/** What a general mixed-integer solver makes of a case. */
export interface MipAnswer {
  /** The best plan found; null where none was found in time. */
  readonly plan: JsonPlan | null;
  /** No plan costs less than this, in unit-days. */
  readonly bound: number;
  /** The plan's cost is proven best, and among plans of that cost so are its hand minutes. */
  readonly costProven: boolean;
  readonly minutesProven: boolean;
  /** Plans of ever lower cost as they were found, and seconds from the start. */
  readonly better: readonly { readonly seconds: number; readonly cost: number }[];
  /** Seconds in all. */
  readonly seconds: number;
}

/** The package's types describe a CommonJS default; what Node loads is the module's own. */
const loading = (loadHighs as unknown as typeof loadHighs.default)();

const wallClock = () => performance.now() / 1_000;

/**
 * Lowers the lateness cost first and then, once that is proven best, the hand minutes, within `seconds` in all by the
 * given clock, which counts seconds. The solver looks at the clock now and then: a large model may take longer.
 */
export async function solveMip(question: JsonCase, seconds: number, clock = wallClock): Promise<MipAnswer> {
  const highs = await loading;
  const started = clock();
  const plain = readPlainly(question);
  const model = mipModel(plain);
  if (model.columns.length === 0) return nothingToDecide(plain, model);
  const since = () => clock() - started;
  return highs.withModel(modelData(model, highs.infinity), (solver) => {
    const { constants } = highs;
    const run = () => {
      const found: { seconds: number; values: Float64Array }[] = [];
      const stopInTime = (event: { interrupt(): void }): undefined => {
        if (since() >= seconds) event.interrupt();
      };
      const { modelStatus } = solver.run({
        [constants.callbackType.mipImprovingSolution]: ({ data }) => {
          if (data.mip_solution !== undefined) found.push({ seconds: since(), values: data.mip_solution });
        },
        [constants.callbackType.mipInterrupt]: stopInTime,
        [constants.callbackType.simplexInterrupt]: stopInTime,
      });
      if (Number(solver.info.get("primal_solution_status")) === constants.solutionStatus.feasible) {
        found.push({ seconds: since(), values: solver.getSolution().colValue });
      }
      return { proven: modelStatus === constants.modelStatus.optimal, found, best: found.at(-1)?.values };
    };
    solver.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 1e-6 });
    const cheapest = run();
    const bound = Number(solver.info.get("mip_dual_bound"));
    let quickest: Pick<typeof cheapest, "proven" | "best"> = { proven: false, best: cheapest.best };
    if (cheapest.proven && cheapest.best !== undefined) {
      const costs = termsOf(model, "cost");
      solver.addRow(-highs.infinity, amountOf(costs, cheapest.best) + 1e-6, costs);
      model.columns.forEach(({ minutes }, column) => {
        solver.changeColCost(column, minutes);
      });
      solver.changeObjectiveOffset(0);
      solver.setSolution({ colValue: cheapest.best });
      quickest = run();
    }
    const spent = since();
    const values = quickest.best ?? cheapest.best;
    return {
      plan: values === undefined ? null : decode(plain, model, values),
      bound: Math.max(0, Number.isFinite(bound) ? bound : 0),
      costProven: cheapest.proven,
      minutesProven: quickest.proven,
      // What the plan really costs: a solution on the way may count an order later than its units are.
      better: cheapest.found.map((each) => ({
        seconds: each.seconds,
        cost: decode(plain, model, each.values).cost,
      })),
      seconds: spent,
    };
  });
}

/** Without stock, anything drying or anything that could be formed in time there is one plan, and the solver refuses. */
function nothingToDecide(plain: PlainCase, model: MipModel): MipAnswer {
  const plan = decode(plain, model, new Float64Array(0));
  const better = [{ seconds: 0, cost: plan.cost }];
  return { plan, bound: plan.cost, costProven: true, minutesProven: true, better, seconds: 0 };
}

interface Terms {
  readonly indices: number[];
  readonly values: number[];
}

function amountOf({ indices, values }: Terms, columns: Float64Array): number {
  return indices.reduce((sum, column, at) => sum + (values[at] ?? 0) * (columns[column] ?? 0), 0);
}

function termsOf({ columns }: MipModel, of: keyof Column): Terms {
  const indices = columns.flatMap((column, at) => (column[of] === 0 ? [] : [at]));
  return { indices, values: indices.map((at) => columns[at]?.[of] ?? 0) };
}

function modelData({ columns, rows, offset }: MipModel, infinity: number) {
  const bounded = (value: number) => (Number.isFinite(value) ? value : Math.sign(value) * infinity);
  const starts = [0];
  const indices: number[] = [];
  const values: number[] = [];
  for (const { terms } of rows) {
    for (const [factor, column] of terms) {
      indices.push(column);
      values.push(factor);
    }
    starts.push(indices.length);
  }
  return {
    numCols: columns.length,
    numRows: rows.length,
    offset,
    colCost: columns.map(({ cost }) => cost),
    colLower: columns.map(() => 0),
    colUpper: columns.map(({ most }) => bounded(most)),
    rowLower: rows.map(({ least }) => bounded(least)),
    rowUpper: rows.map(({ most }) => bounded(most)),
    matrix: {
      format: "csr" as const,
      numRows: rows.length,
      numCols: columns.length,
      starts,
      indices,
      values,
    },
    integrality: columns.map(() => 1 as const),
  };
}

function decode(plain: PlainCase, model: MipModel, values: Float64Array): JsonPlan {
  const amount = (column: number) => Math.round(values[column] ?? 0);
  const pieces = new Map([...model.pieces].map(([forming, column]) => [forming, amount(column)]));
  const handed = model.hands
    .map(({ column, order, product, source }) => ({ order, product, source, units: amount(column) }))
    .filter(({ units }) => units > 0);
  const plan = writePlainPlan(plain, pieces, handed, { cost: 0, handMinutes: 0, bound: 0 });
  const { cost, handMinutes } = judge(plain.question, plan);
  return { ...plan, cost, handMinutes };
}
