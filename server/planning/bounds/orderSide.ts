import { asReadyTerms, completeTerms, type Instance, marketDays } from "../search/instance.ts";
import { CheapestOffers } from "./cheapestOffers.ts";
import type { Offers } from "./offers.ts";

/** What the orders ask for: units of an offer, or that its run be there at all. */
export interface Asking {
  units(offer: number, units: number): void;
  mark(offer: number): void;
}

/** Serves every order at its cheapest by itself, where each offer has a price. */
export class OrderSide {
  /** By offer: what a unit costs. Set before the orders are served, and spoiled by it. */
  readonly price: Float64Array;
  /** By offer: what it costs to have its run. */
  readonly markPrice: Float64Array;
  /** By line: 1 where runs have a mark, since what is ready may serve a complete order's line in part. */
  readonly marked: Uint8Array;
  readonly #instance: Instance;
  readonly #offers: Offers;
  readonly #choice: CheapestOffers;
  readonly #nextMark: Int32Array;
  readonly #cheapestMark: Int32Array;
  readonly #readyUnits: Float64Array;

  constructor(instance: Instance, offers: Offers) {
    this.#instance = instance;
    this.#offers = offers;
    this.#choice = new CheapestOffers(offers);
    this.price = this.#choice.price;
    this.markPrice = new Float64Array(offers.source.length);
    this.marked = Uint8Array.from({ length: instance.lines }, (_, line) => {
      const product = instance.lineProduct[line]!;
      const isComplete = instance.orderTerms[instance.lineOrder[line]!] === completeTerms;
      return isComplete && instance.firstReady[product + 1]! > instance.firstReady[product]! ? 1 : 0;
    });
    this.#nextMark = new Int32Array(instance.lines);
    this.#cheapestMark = new Int32Array(instance.lines);
    this.#readyUnits = new Float64Array(instance.lines);
  }

  /** Lateness and prices together, over all orders. */
  cheapest(asking: Asking): number {
    let sum = 0;
    for (let order = 0; order < this.#instance.orders; order++) {
      const isComplete = this.#instance.orderTerms[order] === completeTerms;
      sum += isComplete ? this.#whole(order, asking) : this.#byUnit(order, asking);
    }
    return sum;
  }

  /** Every unit by itself: the cheapest supplies, lateness included, until one is dearer than going without. */
  #byUnit(order: number, asking: Asking): number {
    const { firstLine, orderTerms, orderWeight, orderNever, orderDue, lineUnits } = this.#instance;
    const { day, first } = this.#offers;
    const choice = this.#choice;
    const asReady = orderTerms[order] === asReadyTerms;
    const weight = orderWeight[order]!;
    const without = weight * (asReady ? orderNever[order]! : marketDays);
    let sum = 0;
    for (let line = firstLine[order]!; line < firstLine[order + 1]!; line++) {
      for (let at = first[line]!; at < first[line + 1]!; at++) {
        const late = Math.max(0, day[at]! - orderDue[order]!);
        if (late > 0 && !asReady) this.price[at] = Number.POSITIVE_INFINITY;
        else this.price[at]! += weight * late;
      }
      choice.open(line, lineUnits[line]!);
      choice.upTo(line, Number.POSITIVE_INFINITY, without);
      choice.each(line, asking.units);
      sum += choice.cost(line) + choice.left(line) * without;
    }
    return sum;
  }

  /** Every possible last day in turn, each line from the cheapest supplies up to then; or nothing at all. */
  #whole(order: number, asking: Asking): number {
    const { firstLine, orderWeight, orderUnits, orderDue, orderNever } = this.#instance;
    const choice = this.#choice;
    const due = orderDue[order]!;
    const perDay = orderWeight[order]! * orderUnits[order]!;
    const firstOfOrder = firstLine[order]!;
    const endOfOrder = firstLine[order + 1]!;
    let least = perDay * orderNever[order]!;
    let lastDay = Number.NEGATIVE_INFINITY;
    for (let line = firstOfOrder; line < endOfOrder; line++) this.#open(line);
    for (let day = due; day !== Number.POSITIVE_INFINITY; ) {
      let sum = perDay * Math.max(0, day - due);
      if (sum >= least) break;
      let next = Number.POSITIVE_INFINITY;
      for (let line = firstOfOrder; line < endOfOrder; line++) {
        choice.upTo(line, day, Number.POSITIVE_INFINITY);
        sum += choice.left(line) > 0 ? Number.POSITIVE_INFINITY : choice.cost(line);
        const mark = this.#markBy(line, day);
        if (mark >= 0) sum += this.markPrice[mark]!;
        next = Math.min(next, choice.nextDay(line));
      }
      if (sum < least) {
        least = sum;
        lastDay = day;
      }
      day = next;
    }
    if (lastDay === Number.NEGATIVE_INFINITY) return least;
    for (let line = firstOfOrder; line < endOfOrder; line++) {
      this.#open(line);
      choice.upTo(line, lastDay, Number.POSITIVE_INFINITY);
      choice.each(line, asking.units);
      const mark = this.#markBy(line, lastDay);
      if (mark >= 0) asking.mark(mark);
    }
    return least;
  }

  #open(line: number): void {
    this.#choice.open(line, this.#instance.lineUnits[line]!);
    this.#nextMark[line] = this.#offers.first[line]!;
    this.#cheapestMark[line] = -1;
    this.#readyUnits[line] = 0;
  }

  /** The cheapest run by a day for a line that what is ready by then can't fill; -1 where it needs none. */
  #markBy(line: number, lastDay: number): number {
    if (this.marked[line] === 0) return -1;
    const { first, source, day } = this.#offers;
    let at = this.#nextMark[line]!;
    for (; at < first[line + 1]! && day[at]! <= lastDay; at++) {
      const mark = this.#cheapestMark[line]!;
      if (source[at]! < 0) this.#readyUnits[line]! += this.#instance.readyUnits[-1 - source[at]!]!;
      else if (mark < 0 || this.markPrice[at]! < this.markPrice[mark]!) this.#cheapestMark[line] = at;
    }
    this.#nextMark[line] = at;
    return this.#readyUnits[line]! >= this.#instance.lineUnits[line]! ? -1 : this.#cheapestMark[line]!;
  }
}
