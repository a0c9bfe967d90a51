import type { Insertion } from "./insertion.ts";
import type { OneBench } from "./oneBench.ts";
import type { Random } from "./random.ts";
import type { Schedule } from "./schedule.ts";
import { sequenceAtOneBench } from "./sequence.ts";

/** Starts of a search, spread over it evenly, where the look as at one bench is exact. */
const mostStarts = 100;

/**
 * A schedule made anew from the best sequence of orders at one bench. The annealing begins with it; where the bench foretold
 * exactly what the schedule costs, a single limit binds everything, and new sequences are what finds better schedules.
 */
export class FreshStart {
  readonly #schedule: Schedule;
  readonly #bench: OneBench;
  readonly #random: Random;
  #starts = 0;
  /** Whether the bench foretold exactly what came of the last sequence that was served. */
  #isExact = false;

  constructor(schedule: Schedule, bench: OneBench, random: Random) {
    this.#schedule = schedule;
    this.#bench = bench;
    this.#random = random;
  }

  /** @param progress share of the search that is over */
  isDue(progress: number): boolean {
    return this.#starts === 0 || (this.#isExact && progress >= this.#starts / mostStarts);
  }

  /** Replaces the schedule where that makes it cost less than `cost`; true when it did, otherwise it is as before. */
  replace(insertion: Insertion, cost: number): boolean {
    this.#starts += 1;
    const schedule = this.#schedule;
    this.#bench.look();
    const sequence = sequenceAtOneBench(this.#bench, this.#random);
    if (sequence.cost < cost && this.#serveAll(insertion, sequence.orders)) {
      const found = schedule.lateness;
      this.#isExact = Math.abs(found - sequence.cost) <= 1e-6 * (1 + sequence.cost);
      if (found < cost - 1e-9) {
        schedule.keep();
        return true;
      }
    }
    schedule.undo();
    return false;
  }

  #serveAll(insertion: Insertion, orders: Int32Array): boolean {
    for (const order of orders) this.#schedule.clear(order);
    return this.#schedule.settleRuns() && orders.every((order) => insertion.serve(order));
  }
}
