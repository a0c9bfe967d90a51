import type { OneBench } from "./oneBench.ts";

/** A part of a row and what is done to it: its ends change places, its first goes to its end, or its last to its front. */
export interface RowChange {
  first: number;
  last: number;
  way: "exchange" | "first-to-end" | "last-to-front";
}

/** Orders standing in a row before one bench, with what comes of it. */
export class OrderRow {
  readonly orders: Int32Array;
  readonly #bench: OneBench;
  /** By place: work done when its order is ready, and what that order's lateness costs then. */
  readonly #done: Float64Array;
  readonly #costs: Float64Array;

  constructor(bench: OneBench) {
    this.#bench = bench;
    this.orders = Int32Array.from(bench.work, (_, order) => order);
    this.#done = new Float64Array(this.orders.length);
    this.#costs = new Float64Array(this.orders.length);
  }

  /** What the lateness of all costs, in unit-days. */
  get cost(): number {
    return this.#costs.reduce((sum, cost) => sum + cost, 0);
  }

  /** Works out anew what comes of the places `first` to `last`; of all when none are given. */
  measure(first = 0, last = this.orders.length - 1): void {
    let done = this.#before(first);
    for (let place = first; place <= last; place++) {
      const order = this.orders[place]!;
      done += this.#bench.work[order]!;
      this.#done[place] = done;
      this.#costs[place] = this.#bench.costAfter(order, done);
    }
  }

  /** What a change would add to the cost. */
  estimate(change: RowChange): number {
    const { first, last } = change;
    let done = this.#before(first);
    let added = 0;
    for (let place = first; place <= last; place++) {
      const order = this.orderAfter(change, place);
      done += this.#bench.work[order]!;
      added += this.#bench.costAfter(order, done) - this.#costs[place]!;
    }
    return added;
  }

  /** Which order stands at a place of the changed part after the change. */
  orderAfter({ first, last, way }: RowChange, place: number): number {
    if (way === "exchange") return this.orders[place === first ? last : place === last ? first : place]!;
    if (way === "first-to-end") return this.orders[place === last ? first : place + 1]!;
    return this.orders[place === first ? last : place - 1]!;
  }

  make({ first, last, way }: RowChange): void {
    const front = this.orders[first]!;
    const end = this.orders[last]!;
    if (way === "first-to-end") this.orders.copyWithin(first, first + 1, last + 1);
    if (way === "last-to-front") this.orders.copyWithin(first + 1, first, last);
    if (way !== "first-to-end") this.orders[first] = end;
    if (way !== "last-to-front") this.orders[last] = front;
    this.measure(first, last);
  }

  #before(place: number): number {
    return place === 0 ? 0 : this.#done[place - 1]!;
  }
}
