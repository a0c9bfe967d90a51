import type { ModelData } from "highs";
import type { LinearModel } from "./linearModel.ts";

/** A part of all plans: those in which some columns lie between closer limits than the model's. */
export interface Part {
  /** By column, where they are closer. */
  readonly least: ReadonlyMap<number, number>;
  readonly most: ReadonlyMap<number, number>;
  /** No plan in it costs less, in unit-days as the solver reckons; infinite where there is none. */
  bound: number;
}

/** All plans there are. */
export function wholePart(bound: number): Part {
  return { least: new Map(), most: new Map(), bound };
}

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
  const { most, rowLeast, rowMost, starts, columns, factors } = model;
  return {
    numCols: most.length,
    numRows: rowLeast.length,
    offset: model.offset,
    colCost: model.cost,
    colLower: most.map((_, column) => part.least.get(column) ?? 0),
    colUpper: limits(most.map((limit, column) => part.most.get(column) ?? limit)),
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
