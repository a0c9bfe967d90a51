import type { Random } from "./random.ts";
import type { Schedule } from "./schedule.ts";

/** Most places an order is shifted: what lies between is taken out and put back, and far moves seldom pay for that. */
const reach = 15;

/**
 * The second neighbourhood of the search: which order comes before which. Orders stand in a row by the day they are
 * ready. One is shifted to another place or changes places with another; those from one place to the other are taken
 * out, to be put back one after the other in their new order, each as well as those before it allow. The first of them
 * so gets the room of all, and what one long order took from many short ones comes back at once.
 *
 * Shifting and exchanging are the usual moves where jobs stand in line for one machine: Crauwels, Potts and Van
 * Wassenhove (1998).
 */
export class Resequencing {
  /** Orders taken out, in the order in which they are to come back. */
  readonly touched: Int32Array;
  count = 0;
  readonly #schedule: Schedule;
  readonly #random: Random;
  /** All orders. Between moves it is nearly in order, so that sorting it costs little. */
  readonly #row: Int32Array;

  constructor(schedule: Schedule, random: Random) {
    this.#schedule = schedule;
    this.#random = random;
    const { orders } = schedule.instance;
    this.touched = new Int32Array(orders);
    this.#row = Int32Array.from({ length: orders }, (_, order) => order);
  }

  /** Takes a part of the row out; false when the rest can't stand without it, and then only `undo` helps. */
  strike(): boolean {
    this.#sort();
    const { orders } = this.#schedule.instance;
    const step = 1 + this.#random.below(this.#random.fraction() < 0.5 ? reach : reach >> 1);
    const first = this.#random.below(Math.max(1, orders - step));
    const last = Math.min(orders - 1, first + step);
    this.count = last - first + 1;
    for (let at = first; at <= last; at++) {
      this.touched[at - first] = this.#row[at]!;
      this.#schedule.clear(this.#row[at]!);
    }
    this.#rearrange();
    return this.#schedule.settleRuns();
  }

  /** The last to the front, the first to the end, or both. */
  #rearrange(): void {
    const { touched, count } = this;
    const way = this.#random.fraction();
    const front = touched[0]!;
    const end = touched[count - 1]!;
    if (way < 0.5) {
      touched[0] = end;
      touched[count - 1] = front;
    } else if (way < 0.75) {
      touched.copyWithin(0, 1, count);
      touched[count - 1] = front;
    } else {
      touched.copyWithin(1, 0, count - 1);
      touched[0] = end;
    }
  }

  #sort(): void {
    const { cells, readyOn } = this.#schedule;
    const row = this.#row;
    for (let at = 1; at < row.length; at++) {
      const order = row[at]!;
      const day = cells[readyOn + order]!;
      let to = at;
      for (; to > 0 && cells[readyOn + row[to - 1]!]! > day; to--) row[to] = row[to - 1]!;
      row[to] = order;
    }
  }
}
