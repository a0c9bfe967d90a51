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

/** Least and most of a column in a part of the plans of a model. */
export function limitsIn(part: Part, model: LinearModel, column: number): readonly [number, number] {
  return [part.least.get(column) ?? 0, part.most.get(column) ?? model.most[column]!];
}
