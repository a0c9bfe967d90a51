import type { OneBench } from "./oneBench.ts";
import { OrderRow, type RowChange } from "./orderRow.ts";
import type { Random } from "./random.ts";
import type { Schedule } from "./schedule.ts";
import { drawChange } from "./sequence.ts";

/** Most places an order is shifted: what lies between is taken out and put back, and far moves seldom pay for that. */
const reach = 15;
/** Changes looked at for one that is made: looking is cheap, serving the orders again is not. */
const draws = 12;

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
  readonly #row: OrderRow;
  readonly #drawn: RowChange = { first: 0, last: 0, way: "exchange" };
  readonly #chosen: RowChange = { ...this.#drawn };

  constructor(schedule: Schedule, random: Random, bench: OneBench) {
    this.#schedule = schedule;
    this.#random = random;
    this.#row = new OrderRow(bench);
    this.touched = new Int32Array(schedule.instance.orders);
  }

  /**
   * Takes a part of the row out; false when the rest can't stand without it, and then only `undo` helps. Of changes drawn
   * by chance it makes the first that, seen as at one bench, could be kept at this temperature, or else the best of them.
   */
  strike(temperature: number): boolean {
    this.count = 0;
    const { orders } = this.#row;
    if (orders.length < 2) return true;
    this.#sort();
    this.#row.measure();
    const { first, last } = this.#choose(temperature);
    this.count = last - first + 1;
    for (let at = 0; at < this.count; at++) {
      const order = this.#row.orderAfter(this.#chosen, first + at);
      this.touched[at] = order;
      this.#schedule.clear(order);
    }
    return this.#schedule.settleRuns();
  }

  #choose(temperature: number): RowChange {
    let least = Number.POSITIVE_INFINITY;
    for (let draw = 0; draw < draws; draw++) {
      const most = this.#random.fraction() < 0.5 ? reach : reach >> 1;
      drawChange(this.#drawn, this.#row.orders.length, most, this.#random);
      const added = this.#row.estimate(this.#drawn);
      if (added < least) {
        least = added;
        Object.assign(this.#chosen, this.#drawn);
      }
      if (added <= this.#random.patience(temperature)) break;
    }
    return this.#chosen;
  }

  #sort(): void {
    const { cells, readyOn } = this.#schedule;
    const row = this.#row.orders;
    for (let at = 1; at < row.length; at++) {
      const order = row[at]!;
      const day = cells[readyOn + order]!;
      let to = at;
      for (; to > 0 && cells[readyOn + row[to - 1]!]! > day; to--) row[to] = row[to - 1]!;
      row[to] = order;
    }
  }
}
