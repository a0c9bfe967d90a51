import type { Instance } from "../search/instance.ts";
import type { LimitPrices } from "./limitPrices.ts";
import type { Limits } from "./limits.ts";
import type { Offers } from "./offers.ts";
import type { OrderSide } from "./orderSide.ts";
import { SessionSide } from "./sessionSide.ts";

/** Share of the newest answer in the running average. */
const averaging = 0.1;
/** Share of the way to the target that the first steps aim at. */
const firstStep = 0.05;
/** Answers without a better one after which the steps become shorter, by how much, and how much longer after a better. */
const patience = 100;
const shorter = 0.8;
const longer = 1.02;
/** Share of the target that the hands of all sessions together cost at first, where nothing better is known. */
const firstHands = 0.1;

/**
 * The relaxation that knows which blends share a session: beside the limits, every offer that is formed has a price which
 * orders pay and sessions earn. Orders are served at their cheapest by themselves, sessions choose their runs by
 * themselves, and whole bowls, clean-downs and least bowls count in full there. Any prices give a true bound.
 */
export class RunPrices {
  /** The best value of the relaxation so far. */
  value = Number.NEGATIVE_INFINITY;
  readonly #offers: Offers;
  readonly #limits: Limits;
  readonly #orders: OrderSide;
  readonly #sessions: SessionSide;
  /** The limits, then the units of every offer, then the runs of every offer. */
  readonly #price: Float64Array;
  readonly #best: Float64Array;
  readonly #use: Float64Array;
  readonly #average: Float64Array;
  /** Brings the units of prices together: about a piece each. */
  readonly #scale: Float64Array;
  readonly #firstRunPrice: number;
  #step = firstStep;
  #now = 0;
  #sinceBetter = 0;

  constructor(instance: Instance, offers: Offers, limits: Limits, orders: OrderSide) {
    this.#offers = offers;
    this.#limits = limits;
    this.#orders = orders;
    this.#sessions = new SessionSide(instance, offers, limits, orders.marked);
    this.#firstRunPrice = limits.count + offers.source.length;
    const size = this.#firstRunPrice + offers.source.length;
    this.#price = new Float64Array(size);
    this.#best = new Float64Array(size);
    this.#use = new Float64Array(size);
    this.#average = new Float64Array(size);
    this.#scale = new Float64Array(size).fill(1);
    const perTray = instance.unitsPerTray.reduce((sum, units) => sum + units, 0) / instance.shapes;
    this.#scale.fill(perTray, limits.trays, limits.bowls);
    this.#scale.fill(20, limits.bowls, limits.molds);
    this.#scale.fill(10, this.#firstRunPrice);
  }

  /** Takes prices over from the plain relaxation, or a little for all hands where that has none. */
  start(plain: LimitPrices, target: number): void {
    const hands = this.#limits.room.subarray(0, this.#limits.trays);
    if (plain.best.some((price) => price > 0)) this.#price.set(plain.best);
    else {
      const minutes = hands.reduce((sum, each) => sum + each, 0);
      this.#price.fill((firstHands * target) / Math.max(1, minutes), 0, hands.length);
    }
    plain.priceOffers(this.#price.subarray(0, this.#limits.count));
    this.#offers.source.forEach((session, at) => {
      if (session >= 0) this.#price[this.#limits.count + at] = this.#orders.price[at]!;
    });
    this.#now = this.#relaxed();
    this.#average.set(this.#use);
    this.#keep();
  }

  /**
   * Adjusts the prices, aiming at `target`: subgradient steps (Held, Wolfe and Crowder 1974) along a running average of
   * what is asked beyond what is there. The steps become shorter, from the best prices again, when nothing is gained for long.
   */
  improve(iterations: number, target: number): void {
    for (let iteration = 0; iteration < iterations && this.value < target; iteration++) {
      this.#follow(this.#step * (target - this.#now));
      this.#now = this.#relaxed();
      for (let cell = 0; cell < this.#use.length; cell++) {
        this.#average[cell] = this.#average[cell]! * (1 - averaging) + this.#use[cell]! * averaging;
      }
      this.#sinceBetter += 1;
      if (this.#now > this.value) {
        this.#keep();
        this.#step *= longer;
      } else if (this.#sinceBetter > patience) {
        this.#step *= shorter;
        this.#price.set(this.#best);
        this.#now = this.value;
        this.#sinceBetter = 0;
      }
    }
  }

  #keep(): void {
    this.value = this.#now;
    this.#best.set(this.#price);
    this.#sinceBetter = 0;
  }

  #follow(distance: number): void {
    let squares = 0;
    for (let cell = 0; cell < this.#price.length; cell++) squares += this.#excess(cell) ** 2;
    if (squares === 0) return;
    const length = distance / squares;
    for (let cell = 0; cell < this.#price.length; cell++) {
      this.#price[cell] = Math.max(0, this.#price[cell]! + length * this.#excess(cell) * this.#scale[cell]!);
    }
  }

  /** What is asked on average beyond what is there; nothing where less is asked of what is free. */
  #excess(cell: number): number {
    const over = this.#average[cell]! * this.#scale[cell]!;
    return over < 0 && this.#price[cell] === 0 ? 0 : over;
  }

  /** Value of the relaxation at the present prices; what is asked beyond what is there is then in `#use`. */
  #relaxed(): number {
    const { source } = this.#offers;
    const { count, room } = this.#limits;
    const price = this.#price;
    const use = this.#use.fill(0);
    const cellOf = (at: number) => (source[at]! < 0 ? this.#limits.readyCell(source[at]!) : count + at);
    for (let at = 0; at < source.length; at++) this.#orders.price[at] = price[cellOf(at)]!;
    this.#orders.markPrice.set(price.subarray(this.#firstRunPrice));
    let sum = this.#orders.cheapest({
      units: (at, units) => {
        use[cellOf(at)]! += units;
      },
      mark: (at) => {
        use[this.#firstRunPrice + at]! += 1;
      },
    });
    sum -= this.#sessions.dearest(price, use);
    for (let cell = 0; cell < count; cell++) {
      sum -= price[cell]! * room[cell]!;
      use[cell]! -= room[cell]!;
    }
    return sum;
  }
}
