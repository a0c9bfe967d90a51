import type { Offers } from "./offers.ts";

/**
 * The cheapest way to fill a line from its offers up to a day, kept up while the day moves on: a heap of the offers in
 * use with the dearest on top, which gives way to whatever is cheaper. Each offer is looked at once, however many days
 * are tried.
 */
export class CheapestOffers {
  readonly #offers: Offers;
  /** By offer, set from outside before a line is opened. */
  readonly price: Float64Array;
  /** Heap of line `l` from `first[l]` on. */
  readonly #heap: Int32Array;
  /** By offer: units in use. */
  readonly #used: Float64Array;
  /** By line. */
  readonly #size: Int32Array;
  readonly #next: Int32Array;
  readonly #left: Float64Array;
  readonly #cost: Float64Array;

  constructor(offers: Offers) {
    this.#offers = offers;
    this.price = new Float64Array(offers.source.length);
    const lines = offers.first.length - 1;
    this.#heap = new Int32Array(offers.source.length);
    this.#used = new Float64Array(offers.source.length);
    this.#size = new Int32Array(lines);
    this.#next = new Int32Array(lines);
    this.#left = new Float64Array(lines);
    this.#cost = new Float64Array(lines);
  }

  /** Begins anew with a line that wants so many units. */
  open(line: number, wanted: number): void {
    this.#size[line] = 0;
    this.#next[line] = this.#offers.first[line]!;
    this.#left[line] = wanted;
    this.#cost[line] = 0;
  }

  /** Takes the offers up to a day into account, but none that costs `dearest` or more. */
  upTo(line: number, day: number, dearest: number): void {
    const offers = this.#offers;
    const end = offers.first[line + 1]!;
    let at = this.#next[line]!;
    for (; at < end && offers.day[at]! <= day; at++) {
      const price = this.price[at]!;
      if (price >= dearest) continue;
      if (this.#left[line] === 0 && price >= this.price[this.#heap[offers.first[line]!]!]!) continue;
      this.#push(line, at);
    }
    this.#next[line] = at;
  }

  /** Day of the next offer not yet taken into account; infinite when there is none. */
  nextDay(line: number): number {
    const at = this.#next[line]!;
    return at < this.#offers.first[line + 1]! ? this.#offers.day[at]! : Number.POSITIVE_INFINITY;
  }

  /** Units still without an offer. */
  left(line: number): number {
    return this.#left[line]!;
  }

  /** What the offers in use cost. */
  cost(line: number): number {
    return this.#cost[line]!;
  }

  /** Offers in use, and how many units of each. */
  each(line: number, use: (offer: number, units: number) => void): void {
    const first = this.#offers.first[line]!;
    for (let at = first; at < first + this.#size[line]!; at++) {
      use(this.#heap[at]!, this.#used[this.#heap[at]!]!);
    }
  }

  #push(line: number, offer: number): void {
    const { first, units } = this.#offers;
    const { price } = this;
    const root = first[line]!;
    let at = this.#size[line]!;
    this.#size[line] = at + 1;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      const above = this.#heap[root + parent]!;
      if (price[above]! >= price[offer]!) break;
      this.#heap[root + at] = above;
      at = parent;
    }
    this.#heap[root + at] = offer;
    this.#used[offer] = units[offer]!;
    this.#cost[line]! += units[offer]! * price[offer]!;
    let over = units[offer]! - this.#left[line]!;
    while (over > 0) {
      const dearest = this.#heap[root]!;
      const given = Math.min(over, this.#used[dearest]!);
      over -= given;
      this.#cost[line]! -= given * price[dearest]!;
      this.#used[dearest]! -= given;
      if (this.#used[dearest] === 0) this.#pop(line);
    }
    this.#left[line] = -over;
  }

  #pop(line: number): void {
    const { first } = this.#offers;
    const { price } = this;
    const root = first[line]!;
    const size = this.#size[line]! - 1;
    this.#size[line] = size;
    const offer = this.#heap[root + size]!;
    let at = 0;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= size) break;
      if (child + 1 < size && price[this.#heap[root + child + 1]!]! > price[this.#heap[root + child]!]!) {
        child += 1;
      }
      if (price[this.#heap[root + child]!]! <= price[offer]!) break;
      this.#heap[root + at] = this.#heap[root + child]!;
      at = child;
    }
    this.#heap[root + at] = offer;
  }
}
