import { type Instance, ticksPerMinute } from "../search/instance.ts";
import type { Limits } from "./limits.ts";
import type { Offers } from "./offers.ts";
import type { OrderSide } from "./orderSide.ts";

/** Share of the newest answer in the running average. */
const averaging = 0.1;

/**
 * The plain relaxation: every limit has a price, every order is served at its cheapest by itself, and what the prices
 * would earn on the full limits is taken off. A bowl counts by the share it is filled, a clean-down by the share of the
 * largest run there could be, a tray by its pieces, and pieces need not be whole. Few prices, so good ones are found soon.
 */
export class LimitPrices {
  /** Value of the relaxation at `best`. */
  value: number;
  readonly best: Float64Array;
  readonly #instance: Instance;
  readonly #offers: Offers;
  readonly #limits: Limits;
  readonly #orders: OrderSide;
  /** By product and session: hand minutes per piece in the session it is formed in, shares of bowl and clean-down included. */
  readonly #formingMinutes: Float64Array;
  readonly #price: Float64Array;
  readonly #use: Float64Array;
  readonly #average: Float64Array;
  readonly #formed: Float64Array;
  #step = 1;
  #sinceBetter = 0;

  constructor(instance: Instance, offers: Offers, formed: Int32Array, limits: Limits, orders: OrderSide) {
    this.#instance = instance;
    this.#offers = offers;
    this.#limits = limits;
    this.#orders = orders;
    this.#formingMinutes = formingMinutes(instance, formed, limits);
    this.#price = new Float64Array(limits.count);
    this.best = new Float64Array(limits.count);
    this.#use = new Float64Array(limits.count);
    this.#formed = new Float64Array(instance.products * instance.sessions);
    this.value = this.#relaxed();
    this.#average = this.#use.slice();
  }

  /**
   * Adjusts the prices, aiming at `target`, the cost of the best plan known: the volume algorithm of Barahona and Anbil
   * (2000). Steps start at the best prices so far and follow the running average of what the relaxation uses, since its
   * single answers jump from one session to another at a touch of the prices.
   */
  improve(iterations: number, target: number): void {
    this.#step = Math.max(this.#step, 0.1);
    for (let iteration = 0; iteration < iterations && this.value < target; iteration++) {
      this.#follow(target - this.value);
      const relaxed = this.#relaxed();
      for (let cell = 0; cell < this.#use.length; cell++) {
        this.#average[cell] = this.#average[cell]! * (1 - averaging) + this.#use[cell]! * averaging;
      }
      if (relaxed > this.value) {
        this.value = relaxed;
        this.best.set(this.#price);
        this.#step = Math.min(2, this.#step * 1.1);
        this.#sinceBetter = 0;
      } else if (++this.#sinceBetter > 12) {
        this.#step *= 0.7;
        this.#sinceBetter = 0;
      }
    }
  }

  /** Price of a unit of each offer, in the order side's list. */
  priceOffers(price: Float64Array): void {
    const { source, line } = this.#offers;
    const { sessions, shapeOf, lineProduct } = this.#instance;
    for (let at = 0; at < source.length; at++) {
      const session = source[at]!;
      const product = lineProduct[line[at]!]!;
      this.#orders.price[at] =
        session < 0
          ? price[this.#limits.readyCell(session)]!
          : this.#limits.priceOf(shapeOf[product]!, session, price) +
            this.#formingMinutes[product * sessions + session]! * price[session]!;
    }
  }

  /** Steps from the best prices: up where the average use is beyond a limit, down where it is below. */
  #follow(distance: number): void {
    let squares = 0;
    for (let cell = 0; cell < this.#price.length; cell++) squares += this.#excess(cell) ** 2;
    if (squares === 0) return;
    const length = (this.#step * distance) / squares;
    for (let cell = 0; cell < this.#price.length; cell++) {
      const scale = Math.max(1, this.#limits.room[cell]!);
      this.#price[cell] = Math.max(0, this.best[cell]! + (length * this.#excess(cell)) / scale);
    }
  }

  /** Average use beyond a limit as a share of it; nothing for a limit that is slack and free. */
  #excess(cell: number): number {
    const room = this.#limits.room[cell]!;
    const over = (this.#average[cell]! - room) / Math.max(1, room);
    return over < 0 && this.best[cell] === 0 ? 0 : over;
  }

  /** Value of the relaxation at the present prices; what it uses is then in `#use`. */
  #relaxed(): number {
    const { source, line } = this.#offers;
    const { sessions, products, shapeOf, lineProduct } = this.#instance;
    const use = this.#use.fill(0);
    const formed = this.#formed.fill(0);
    this.priceOffers(this.#price);
    this.#orders.markPrice.fill(0);
    let sum = this.#orders.cheapest({
      units: (at, units) => {
        const session = source[at]!;
        if (session < 0) use[this.#limits.readyCell(session)]! += units;
        else formed[lineProduct[line[at]!]! * sessions + session]! += units;
      },
      mark: () => {},
    });
    for (let product = 0; product < products; product++) {
      for (let session = 0; session < sessions; session++) {
        const units = formed[product * sessions + session]!;
        if (units === 0) continue;
        use[session]! += units * this.#formingMinutes[product * sessions + session]!;
        this.#limits.take(shapeOf[product]!, session, units, use);
      }
    }
    for (let cell = 0; cell < use.length; cell++) sum -= this.#price[cell]! * this.#limits.room[cell]!;
    return sum;
  }
}

/** Hand minutes a piece takes where it is formed, with the least share of a bowl and of a clean-down any run allows. */
function formingMinutes(instance: Instance, formed: Int32Array, limits: Limits): Float64Array {
  const { sessions, products } = instance;
  const demand = new Float64Array(products);
  for (let line = 0; line < instance.lines; line++) {
    demand[instance.lineProduct[line]!]! += instance.lineUnits[line]!;
  }
  const result = new Float64Array(products * sessions);
  for (let blend = 0; blend < instance.blends; blend++) {
    const own = instance.productsOfBlend.subarray(
      instance.firstProduct[blend]!,
      instance.firstProduct[blend + 1]!,
    );
    for (let session = 0; session < sessions; session++) {
      let largest = 0;
      for (const product of own) {
        const most = Math.min(demand[product]!, formed[product * sessions + session]!);
        largest += most * instance.weightOf[product]!;
      }
      largest = Math.min(largest, instance.bowlRoom[session]! * instance.bowlGrams);
      const ticksPerGram =
        largest > 0
          ? instance.mixTicks / Math.min(instance.bowlGrams, largest) + instance.cleanTicks / largest
          : 0;
      for (const product of own) {
        result[product * sessions + session] =
          limits.formingMinutes[instance.shapeOf[product]!]! +
          (ticksPerGram * instance.weightOf[product]!) / ticksPerMinute;
      }
    }
  }
  return result;
}
