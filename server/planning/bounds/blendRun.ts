import { type Instance, ticksPerMinute } from "../search/instance.ts";
import type { Limits } from "./limits.ts";
import type { Offers } from "./offers.ts";

/** The offers of one blend in one session: `from .. to - 1` of the session side's list. */
export interface BlendInSession {
  readonly session: number;
  readonly blend: number;
  readonly from: number;
  readonly to: number;
}

/**
 * What one run of a blend in a session can earn when its pieces have prices: whole bowls, a whole clean-down and the least
 * weight of a bowl are paid, pieces may be fractions. `open` readies a run, the others speak of the one opened last.
 * Where the blend's shapes differ in minutes and grams it may say too much, never too little.
 */
export class BlendRun {
  /** By place in the list: units the run forms, from `form`. */
  readonly formed: Float64Array;
  /** Bowls of the last `earnings`; pieces that only fill a least bowl up, and their product, of the last `form`. */
  bowls = 0;
  fillers = 0;
  fillerProduct = 0;
  readonly #instance: Instance;
  readonly #limits: Limits;
  readonly #offers: Offers;
  readonly #list: Int32Array;
  readonly #value: Float64Array;
  readonly #minutes: Float64Array;
  readonly #grams: Float64Array;
  readonly #most: Float64Array;
  /** Places in order of value by minute: by itself, and with what a piece saves by taking a filler's place. */
  readonly #plainly: Int32Array;
  readonly #filling: Int32Array;
  readonly #mix: number;
  readonly #clean: number;
  #run: BlendInSession = { session: 0, blend: 0, from: 0, to: 0 };
  #fixedCost = 0;
  #bowlCost = 0;
  #mostBowls = 0;
  #slowest = 0;
  #fillerCost = 0;
  #fillerMinutes = 0;
  #inPlaceOfFillers = false;

  constructor(instance: Instance, offers: Offers, limits: Limits, list: Int32Array) {
    this.#instance = instance;
    this.#limits = limits;
    this.#offers = offers;
    this.#list = list;
    const product = (offer: number) => instance.lineProduct[offers.line[offer]!]!;
    this.#value = new Float64Array(list.length);
    this.#minutes = Float64Array.from(list, (at) => limits.formingMinutes[instance.shapeOf[product(at)]!]!);
    this.#grams = Float64Array.from(list, (at) => instance.weightOf[product(at)]!);
    this.#most = Float64Array.from(list, (at) => offers.units[at]!);
    this.formed = new Float64Array(list.length);
    this.#plainly = new Int32Array(list.length);
    this.#filling = new Int32Array(list.length);
    this.#mix = instance.mixTicks / ticksPerMinute;
    this.#clean = instance.cleanTicks / ticksPerMinute;
  }

  /**
   * Readies a run. `later` is the price of what a piece takes besides the hands of its session, by shape and session;
   * `bonus` is paid for the run itself. Gives the minutes of all that is worth forming, -1 where no run is.
   */
  open(run: BlendInSession, price: Float64Array, later: Float64Array, bonus: number): number {
    const { sessions, shapeOf, lineProduct, bowlGrams, minBowlGrams, bowlRoom } = this.#instance;
    const { session, from, to } = run;
    const hands = price[session]!;
    let worth = 0;
    let minutes = 0;
    let grams = 0;
    this.#slowest = 0;
    for (let at = from; at < to; at++) {
      const offer = this.#list[at]!;
      const shape = shapeOf[lineProduct[this.#offers.line[offer]!]!]!;
      const paid = price[this.#limits.count + offer]!;
      const value = paid - later[shape * sessions + session]! - hands * this.#minutes[at]!;
      this.#value[at] = value;
      this.#slowest = Math.max(this.#slowest, this.#minutes[at]! / Math.max(1e-9, this.#grams[at]!));
      if (value <= 0) continue;
      worth += value * this.#most[at]!;
      minutes += this.#minutes[at]! * this.#most[at]!;
      grams += this.#grams[at]! * this.#most[at]!;
    }
    this.#run = run;
    this.#bowlCost = this.#mix * hands + price[this.#limits.bowls + session]!;
    this.#fixedCost = this.#clean * hands - bonus;
    if (worth <= this.#fixedCost + this.#bowlCost) return -1;
    this.#mostBowls = Math.min(bowlRoom[session]!, Math.max(1, Math.ceil(grams / bowlGrams)));
    this.#findFiller(hands, later);
    this.#sort(this.#plainly, 0);
    this.#sort(this.#filling, this.#fillerCost);
    const least = minBowlGrams === 0 ? 0 : this.#mostBowls * minBowlGrams * this.#fillerMinutes;
    return this.#clean + this.#mostBowls * this.#mix + Math.max(minutes, least);
  }

  /** Most that the run can earn within so many hand minutes of its session; 0 without a run. */
  earnings(minutes: number): number {
    const { bowlGrams, minBowlGrams } = this.#instance;
    let most = 0;
    this.bowls = 0;
    for (let bowls = 1; bowls <= this.#mostBowls; bowls++) {
      const left = minutes - this.#clean - bowls * this.#mix + 1e-9;
      const least = bowls * minBowlGrams;
      if (left < 0 || (least > 0 && left < least * this.#fillerMinutes)) break;
      const time = Math.min(left, bowls * bowlGrams * this.#slowest);
      const fixed = this.#fixedCost + bowls * this.#bowlCost;
      let sum = this.#fill(this.#plainly, 0, time, false) - fixed;
      let inPlaceOfFillers = false;
      if (least > 0) {
        const other =
          this.#fill(this.#filling, this.#fillerCost, time, false) - this.#fillerCost * least - fixed;
        inPlaceOfFillers = other < sum;
        sum = Math.min(sum, other);
      }
      if (sum <= most) continue;
      most = sum;
      this.bowls = bowls;
      this.#inPlaceOfFillers = inPlaceOfFillers;
    }
    return most;
  }

  /** As `earnings`, and says what is formed. */
  form(minutes: number): number {
    const earned = this.earnings(minutes);
    const { from, to } = this.#run;
    this.formed.fill(0, from, to);
    this.fillers = 0;
    if (this.bowls === 0) return 0;
    const { bowlGrams, minBowlGrams, weightOf } = this.#instance;
    const left = minutes - this.#clean - this.bowls * this.#mix + 1e-9;
    const time = Math.min(left, this.bowls * bowlGrams * this.#slowest);
    if (this.#inPlaceOfFillers) this.#fill(this.#filling, this.#fillerCost, time, true);
    else this.#fill(this.#plainly, 0, time, true);
    let grams = 0;
    for (let at = from; at < to; at++) grams += this.formed[at]! * this.#grams[at]!;
    const missing = this.bowls * minBowlGrams - grams;
    if (missing > 0) this.fillers = missing / weightOf[this.fillerProduct]!;
    return earned;
  }

  /** Hand minutes of the run's bowls and clean-down. */
  fixedMinutes(): number {
    return this.#clean + this.bowls * this.#mix;
  }

  /** Value of the dearest pieces that fit into so many minutes, with `saved` for each gram. */
  #fill(order: Int32Array, saved: number, minutes: number, forming: boolean): number {
    const { from, to } = this.#run;
    let left = minutes;
    let sum = 0;
    for (let place = from; place < to; place++) {
      const at = order[place]!;
      const value = this.#value[at]! + saved * this.#grams[at]!;
      if (value <= 0) break;
      const each = this.#minutes[at]!;
      const units = each * this.#most[at]! <= left ? this.#most[at]! : left / each;
      sum += units * value;
      left -= units * each;
      if (forming) this.formed[at] = units;
    }
    return sum;
  }

  /** The cheapest way to fill a gram up, and the quickest. */
  #findFiller(hands: number, later: Float64Array): void {
    const { sessions, firstProduct, productsOfBlend, shapeOf, weightOf, pack } = this.#instance;
    const { session, blend } = this.#run;
    this.#fillerCost = Number.POSITIVE_INFINITY;
    this.#fillerMinutes = Number.POSITIVE_INFINITY;
    for (let index = firstProduct[blend]!; index < firstProduct[blend + 1]!; index++) {
      const product = productsOfBlend[index]!;
      const cell = shapeOf[product]! * sessions + session;
      const grams = weightOf[product]!;
      if (pack[cell]! < 0 || grams === 0) continue;
      const minutes = this.#limits.formingMinutes[shapeOf[product]!]!;
      this.#fillerMinutes = Math.min(this.#fillerMinutes, minutes / grams);
      const cost = (later[cell]! + hands * minutes) / grams;
      if (cost >= this.#fillerCost) continue;
      this.#fillerCost = cost;
      this.fillerProduct = product;
    }
  }

  #sort(order: Int32Array, saved: number): void {
    const { from, to } = this.#run;
    const rate = (at: number) =>
      (this.#value[at]! + saved * this.#grams[at]!) / Math.max(1e-9, this.#minutes[at]!);
    for (let at = from; at < to; at++) {
      const own = rate(at);
      let place = at;
      for (; place > from && rate(order[place - 1]!) < own; place--) order[place] = order[place - 1]!;
      order[place] = at;
    }
  }
}
