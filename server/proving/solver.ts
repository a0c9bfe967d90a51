import loadHighs, { type Highs, type ModelData } from "highs";
import type { LinearModel } from "./linearModel.ts";
import { limitsIn, type Part } from "./part.ts";

/** The package's types describe a CommonJS default; what Node loads is the module's own. */
export const loading: Promise<Highs> = (loadHighs as unknown as typeof loadHighs.default)();

/** How wrong the solver's prices may be, in unit-days for each unit of a column, without its saying so. */
export const dualTolerance = 1e-7;

/**
 * The model as the solver wants it, with the limits of a part.
 *
 * @param whole which columns have to be whole: none, those that are whole in the model, or all.
 */
export function solverInput(
  model: LinearModel,
  part: Part,
  whole: "none" | "some" | "all",
  infinity: number,
): ModelData {
  const limits = (list: readonly number[]) =>
    list.map((value) => (Number.isFinite(value) ? value : Math.sign(value) * infinity));
  const between = model.most.map((_, column) => limitsIn(part, model, column));
  const { most, rowLeast, rowMost, starts, columns, factors } = model;
  return {
    numCols: most.length,
    numRows: rowLeast.length,
    offset: model.offset,
    colCost: model.cost,
    colLower: between.map(([least]) => least),
    colUpper: limits(between.map(([, most]) => most)),
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
    integrality: model.isWhole.map((isWhole) =>
      whole === "all" || (whole === "some" && isWhole) ? (1 as const) : (0 as const),
    ),
  };
}
