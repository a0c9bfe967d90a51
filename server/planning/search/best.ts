/** Kept state of the best schedule, and what it costs. */
export interface Best {
  readonly cells: Float64Array;
  cost: number;
  ticks: number;
}
