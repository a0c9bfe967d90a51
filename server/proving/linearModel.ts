/** A factor and the column it multiplies. */
export type Term = readonly [factor: number, column: number];

/** Stands for "no limit" on one side of a row. */
export const endless = Number.POSITIVE_INFINITY;

/** Thrown where a case is too large for the solver; the model is not finished then. */
export class TooManyCoefficients extends Error {
  constructor(most: number) {
    super(`more than ${most} coefficients`);
  }
}

/** Columns from 0 to their most, some of them whole, with a cost each; rows that hold sums of them between two limits. */
export class LinearModel {
  readonly most: number[] = [];
  readonly cost: number[] = [];
  readonly isWhole: boolean[] = [];
  /** Whole columns that decide much: by these the proof divides the plans there are. */
  readonly decisions: number[] = [];
  readonly rowLeast: number[] = [];
  readonly rowMost: number[] = [];
  /** Terms of row `r` are `starts[r] .. starts[r + 1] - 1` of both lists. */
  readonly starts: number[] = [0];
  readonly columns: number[] = [];
  readonly factors: number[] = [];
  /** Cost where every column is 0. */
  offset = 0;
  readonly #mostCoefficients: number;

  /** @param mostCoefficients beyond which rows are refused by throwing `TooManyCoefficients`. */
  constructor(mostCoefficients: number) {
    this.#mostCoefficients = mostCoefficients;
  }

  amount(most: number, cost = 0): number {
    return this.#column(most, cost, false);
  }

  whole(most: number, cost = 0): number {
    return this.#column(most, cost, true);
  }

  decision(most: number, cost = 0): number {
    this.decisions.push(this.most.length);
    return this.whole(most, cost);
  }

  row(least: number, terms: readonly Term[], most: number): void {
    if (terms.length === 0) return;
    if (this.columns.length + terms.length > this.#mostCoefficients) {
      throw new TooManyCoefficients(this.#mostCoefficients);
    }
    for (const [factor, column] of terms) {
      this.factors.push(factor);
      this.columns.push(column);
    }
    this.starts.push(this.columns.length);
    this.rowLeast.push(least);
    this.rowMost.push(most);
  }

  /** A whole column that is the sum of others, at most `most`, for the proof to divide plans by and the solver to cut by. */
  sum(columns: readonly number[], most: number): void {
    if (columns.length < 2) return;
    this.row(0, [...columns.map((column): Term => [1, column]), [-1, this.decision(most)]], 0);
  }

  #column(most: number, cost: number, isWhole: boolean): number {
    this.cost.push(cost);
    this.isWhole.push(isWhole);
    return this.most.push(most) - 1;
  }
}
