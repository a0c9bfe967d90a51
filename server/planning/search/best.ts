import type { Schedule } from "./schedule.ts";

/** Kept state of the best schedule, and what it costs. */
export class Best {
  readonly cells: Float64Array;
  cost: number;
  ticks: number;

  constructor({ cells, cost, ticks }: Schedule) {
    this.cells = cells.slice();
    this.cost = cells[cost]!;
    this.ticks = cells[ticks]!;
  }
}
