import { asReadyTerms, completeTerms, type Instance } from "./search/instance.ts";

const marketDays = 7;

/** Share of the newest answer in the running average. */
const averaging = 0.1;

/**
 * A lateness cost that no plan for the case can go below, by Lagrangian relaxation (Held and Karp 1970): hands, molds, trays and ready supplies get a price each, every order is then served at its
 * cheapest on its own, and what the prices would earn on the full limits is taken off. Any prices give a true bound;
 * `improve` looks for good ones.
 *
 * What is relaxed errs downwards only: a bowl counts by the share it is filled, a clean-down by the share of the
 * largest run that could be, a tray by its pieces, and pieces need not be whole.
 */
export class LowerBound {
  /** The best bound found so far, in unit-days. */
  value: number;
  readonly #instance: Instance;
  /** One cell a limit: hands, trays, molds by shape, each by session, then the ready supplies. */
  readonly #limit: Float64Array;
  readonly #price: Float64Array;
  readonly #use: Float64Array;
  /** Prices of the best bound. */
  readonly #best: Float64Array;
  readonly #average: Float64Array;
  readonly #trays: number;
  readonly #molds: number;
  readonly #ready: number;
  /** By product and session: hand ticks per piece in the session it is formed in, shares of bowl and clean-down included. */
  readonly #formingTicks: Float64Array;
  readonly #granule: number;
  readonly #offers: Offers;
  #relaxedBest: number;
  #step = 1;
  #sinceBetter = 0;

  constructor(instance: Instance) {
    this.#instance = instance;
    const { sessions, shapes } = instance;
    this.#trays = sessions;
    this.#molds = 2 * sessions;
    this.#ready = this.#molds + shapes * sessions;
    const limits = this.#ready + instance.readyUnits.length;
    this.#limit = new Float64Array(limits);
    this.#limit.set(instance.handRoom);
    this.#limit.set(instance.trayRoom, this.#trays);
    this.#limit.set(instance.moldRoom, this.#molds);
    this.#limit.set(instance.readyUnits, this.#ready);
    this.#price = new Float64Array(limits);
    this.#use = new Float64Array(limits);
    this.#best = new Float64Array(limits);
    this.#formingTicks = formingTicks(instance);
    this.#granule = costGranule(instance);
    this.#offers = collectOffers(instance);
    this.#relaxedBest = this.#relaxed();
    this.#average = this.#use.slice();
    this.value = this.#roundedUp(this.#relaxedBest);
  }

  /** True where no plan can be better than one of this cost. */
  proves(cost: number): boolean {
    return this.value >= cost - 1e-6 * Math.max(1, cost);
  }

  /**
   * Adjusts the prices `iterations` times, aiming at `target`, the cost of the best plan known: the volume algorithm of
   * Barahona and Anbil (2000). Steps start at the best prices so far and follow the running average of what the
   * relaxation uses, since its single answers jump from one session to another at a touch of the prices.
   */
  improve(iterations: number, target: number): void {
    this.#step = Math.max(this.#step, 0.1);
    for (let iteration = 0; iteration < iterations && !this.proves(target); iteration++) {
      this.#follow(Math.max(this.#granule, target - this.#relaxedBest));
      this.#use.fill(0);
      const relaxed = this.#relaxed();
      for (let cell = 0; cell < this.#use.length; cell++) {
        this.#average[cell] = this.#average[cell]! * (1 - averaging) + this.#use[cell]! * averaging;
      }
      if (relaxed > this.#relaxedBest) {
        this.#relaxedBest = relaxed;
        this.value = Math.max(this.value, this.#roundedUp(relaxed));
        this.#best.set(this.#price);
        this.#step = Math.min(2, this.#step * 1.1);
        this.#sinceBetter = 0;
      } else if (++this.#sinceBetter > 12) {
        this.#step *= 0.7;
        this.#sinceBetter = 0;
      }
    }
  }

  /** Steps from the best prices: up where the average use is beyond a limit, down where it is below. */
  #follow(distance: number): void {
    let squares = 0;
    for (let cell = 0; cell < this.#limit.length; cell++) squares += this.#excess(cell) ** 2;
    if (squares === 0) return;
    const length = (this.#step * distance) / squares;
    for (let cell = 0; cell < this.#limit.length; cell++) {
      const scale = Math.max(1, this.#limit[cell]!);
      this.#price[cell] = Math.max(0, this.#best[cell]! + (length * this.#excess(cell)) / scale);
    }
  }

  /** Average use beyond a limit as a share of it; nothing for a limit that is slack and free. */
  #excess(cell: number): number {
    const over = (this.#average[cell]! - this.#limit[cell]!) / Math.max(1, this.#limit[cell]!);
    return over < 0 && this.#best[cell] === 0 ? 0 : over;
  }

  /** Value of the relaxation at the present prices; adds what it would use to `#use`. */
  #relaxed(): number {
    let sum = 0;
    for (let cell = 0; cell < this.#limit.length; cell++) sum -= this.#price[cell]! * this.#limit[cell]!;
    for (let order = 0; order < this.#instance.orders; order++) sum += this.#cheapest(order);
    return sum;
  }

  #cheapest(order: number): number {
    const { firstLine } = this.#instance;
    for (let line = firstLine[order]!; line < firstLine[order + 1]!; line++) this.#priceOffers(line);
    return this.#instance.orderTerms[order] === completeTerms
      ? this.#cheapestComplete(order)
      : this.#cheapestByUnit(order);
  }

  /** Every unit by itself: the cheapest supplies, lateness included, until one is dearer than going without. */
  #cheapestByUnit(order: number): number {
    const { firstLine, orderTerms, orderWeight, orderNever, lineUnits } = this.#instance;
    const { day, price, first } = this.#offers;
    const asReady = orderTerms[order] === asReadyTerms;
    const weight = orderWeight[order]!;
    const due = this.#instance.orderDue[order]!;
    const without = weight * (asReady ? orderNever[order]! : marketDays);
    let sum = 0;
    for (let line = firstLine[order]!; line < firstLine[order + 1]!; line++) {
      for (let at = first[line]!; at < first[line + 1]!; at++) {
        const late = Math.max(0, day[at]! - due);
        if (late > 0 && !asReady) price[at] = Number.POSITIVE_INFINITY;
        else price[at]! += weight * late;
      }
      const { cost, left } = this.#takeCheapest(
        line,
        Number.POSITIVE_INFINITY,
        without,
        lineUnits[line]!,
        true,
      );
      sum += cost + left * without;
    }
    return sum;
  }

  /** Every possible last day in turn, each line from the cheapest supplies up to then; or nothing at all. */
  #cheapestComplete(order: number): number {
    const { firstLine, orderWeight, orderUnits, orderDue, orderNever, lineUnits } = this.#instance;
    const { day, first } = this.#offers;
    const perDay = orderWeight[order]! * orderUnits[order]!;
    let least = perDay * orderNever[order]!;
    let lastDay = Number.NEGATIVE_INFINITY;
    let from = orderDue[order]!;
    const anything = Number.POSITIVE_INFINITY;
    for (;;) {
      const lateness = perDay * Math.max(0, from - orderDue[order]!);
      if (lateness >= least) break;
      let sum = lateness;
      for (let line = firstLine[order]!; line < firstLine[order + 1]! && sum < least; line++) {
        const { cost, left } = this.#takeCheapest(line, from, anything, lineUnits[line]!, false);
        sum += left > 0 ? anything : cost;
      }
      if (sum < least) {
        least = sum;
        lastDay = from;
      }
      let next = anything;
      for (let at = first[firstLine[order]!]!; at < first[firstLine[order + 1]!]!; at++) {
        if (day[at]! > from && day[at]! < next) next = day[at]!;
      }
      if (next === anything) break;
      from = next;
    }
    if (lastDay !== Number.NEGATIVE_INFINITY) {
      for (let line = firstLine[order]!; line < firstLine[order + 1]!; line++) {
        this.#takeCheapest(line, lastDay, anything, lineUnits[line]!, true);
      }
    }
    return least;
  }

  /** Fills a line from offers up to a day, cheapest first, while they cost less than `dearest` each. */
  #takeCheapest(
    line: number,
    lastDay: number,
    dearest: number,
    wanted: number,
    using: boolean,
  ): { readonly cost: number; readonly left: number } {
    const { day, price, units, first, taken } = this.#offers;
    taken.fill(0, first[line]!, first[line + 1]!);
    let left = wanted;
    let cost = 0;
    while (left > 0) {
      let best = -1;
      for (let at = first[line]!; at < first[line + 1]!; at++) {
        if (taken[at] === 1 || day[at]! > lastDay || price[at]! >= dearest) continue;
        if (best < 0 || price[at]! < price[best]!) best = at;
      }
      if (best < 0) break;
      taken[best] = 1;
      const some = Math.min(left, units[best]!);
      left -= some;
      cost += some * price[best]!;
      if (using) this.#useOffer(line, best, some);
    }
    return { cost, left };
  }

  #priceOffers(line: number): void {
    const { price, first } = this.#offers;
    for (let at = first[line]!; at < first[line + 1]!; at++) {
      price[at] = this.#walkOffer(line, at, this.#price, null, 1);
    }
  }

  #useOffer(line: number, offer: number, units: number): void {
    this.#walkOffer(line, offer, this.#price, this.#use, units);
  }

  /** What `units` of an offer take of each limit: their price, and where `use` is given, added to it. */
  #walkOffer(
    line: number,
    offer: number,
    price: Float64Array,
    use: Float64Array | null,
    units: number,
  ): number {
    const instance = this.#instance;
    const { sessions } = instance;
    const source = this.#offers.source[offer]!;
    if (source < 0) {
      const cell = this.#ready - 1 - source;
      if (use !== null) use[cell]! += units;
      return price[cell]! * units;
    }
    const product = instance.lineProduct[line]!;
    const shape = instance.shapeOf[product]!;
    const unmold = instance.unmold[shape * sessions + source]!;
    const pack = instance.pack[shape * sessions + source]!;
    const turn = instance.turnTicks[shape]!;
    const tray = 1 / instance.unitsPerTray[shape]!;
    const molds = this.#molds + shape * sessions;
    const holdsMold = instance.holdsMold[shape] === 1;
    let sum = 0;
    for (let at = source; at < pack; at++) {
      const hands = at === source ? this.#formingTicks[product * sessions + source]! : at < unmold ? turn : 0;
      sum += hands * price[at]! + tray * price[this.#trays + at]!;
      if (holdsMold && at < unmold) sum += price[molds + at]!;
      if (use === null) continue;
      use[at]! += hands * units;
      use[this.#trays + at]! += tray * units;
      if (holdsMold && at < unmold) use[molds + at]! += units;
    }
    sum += instance.unmoldTicks[shape]! * price[unmold]! + instance.packTicks[shape]! * price[pack]!;
    if (use !== null) {
      use[unmold]! += instance.unmoldTicks[shape]! * units;
      use[pack]! += instance.packTicks[shape]! * units;
    }
    return sum * units;
  }

  /** Costs come in whole granules, so a bound just above one granule is worth the next. */
  #roundedUp(bound: number): number {
    const safe = bound - 1e-7 * Math.max(1, Math.abs(bound));
    return Math.max(0, this.#granule === 0 ? safe : Math.ceil(safe / this.#granule - 1e-9) * this.#granule);
  }
}

/** Supplies a line could use: those of line `l` are `first[l] .. first[l + 1] - 1`. */
interface Offers {
  readonly first: Int32Array;
  /** Session, or -1 minus the ready supply. */
  readonly source: Int32Array;
  readonly day: Int32Array;
  readonly units: Int32Array;
  readonly price: Float64Array;
  readonly taken: Uint8Array;
}

function collectOffers(instance: Instance): Offers {
  const first = new Int32Array(instance.lines + 1);
  const source: number[] = [];
  const day: number[] = [];
  const units: number[] = [];
  for (let line = 0; line < instance.lines; line++) {
    const product = instance.lineProduct[line]!;
    for (let ready = instance.firstReady[product]!; ready < instance.firstReady[product + 1]!; ready++) {
      source.push(-1 - ready);
      day.push(instance.readyDays[ready]!);
      units.push(instance.readyUnits[ready]!);
    }
    const shape = instance.shapeOf[product]! * instance.sessions;
    for (let session = 0; session < instance.sessions; session++) {
      const most = mostFormed(instance, product, session, instance.lineUnits[line]!);
      if (most <= 0) continue;
      source.push(session);
      day.push(instance.readyDay[shape + session]!);
      units.push(most);
    }
    first[line + 1] = source.length;
  }
  return {
    first,
    source: Int32Array.from(source),
    day: Int32Array.from(day),
    units: Int32Array.from(units),
    price: new Float64Array(source.length),
    taken: new Uint8Array(source.length),
  };
}

/** Hand ticks a piece takes where it is formed, with the least share of a bowl and of a clean-down any run allows. */
function formingTicks(instance: Instance): Float64Array {
  const { sessions, products } = instance;
  const demand = new Float64Array(products);
  for (let line = 0; line < instance.lines; line++) {
    demand[instance.lineProduct[line]!]! += instance.lineUnits[line]!;
  }
  const result = new Float64Array(products * sessions);
  for (let blend = 0; blend < instance.blends; blend++) {
    for (let session = 0; session < sessions; session++) {
      const own = instance.productsOfBlend.subarray(
        instance.firstProduct[blend]!,
        instance.firstProduct[blend + 1]!,
      );
      let largest = 0;
      for (const product of own) {
        largest += mostFormed(instance, product, session, demand[product]!) * instance.weightOf[product]!;
      }
      largest = Math.min(largest, instance.bowlRoom[session]! * instance.bowlGrams);
      const perGram =
        largest > 0
          ? instance.mixTicks / Math.min(instance.bowlGrams, largest) + instance.cleanTicks / largest
          : 0;
      for (const product of own) {
        const shape = instance.shapeOf[product]!;
        result[product * sessions + session] =
          instance.formTicks[shape]! + instance.turnTicks[shape]! + perGram * instance.weightOf[product]!;
      }
    }
  }
  return result;
}

/** Largest amount all lateness costs are whole multiples of, where the weights have few decimals; else 0. */
function costGranule(instance: Instance): number {
  for (const parts of [1, 2, 4, 5, 8, 10, 20, 25, 50, 100]) {
    const isWhole = (weight: number) => Math.abs(weight * parts - Math.round(weight * parts)) < 1e-9;
    if (instance.orderWeight.every(isWhole)) return 1 / parts;
  }
  return 0;
}

/** Most pieces of a product, up to `want`, that an otherwise empty workshop can form in a session. */
export function mostFormed(instance: Instance, product: number, session: number, want: number): number {
  const { sessions } = instance;
  const shape = instance.shapeOf[product]!;
  const unmold = instance.unmold[shape * sessions + session]!;
  const pack = instance.pack[shape * sessions + session]!;
  if (pack < 0 || instance.bowlRoom[session] === 0) return 0;
  let most = want;
  const limit = (room: number, perPiece: number) => {
    if (room < most * perPiece) most = Math.floor(room / perPiece);
  };
  for (let at = session; at < pack; at++) {
    most = Math.min(most, instance.trayRoom[at]! * instance.unitsPerTray[shape]!);
    if (at < unmold && instance.holdsMold[shape] === 1) {
      most = Math.min(most, instance.moldRoom[shape * sessions + at]!);
    }
    if (at < unmold && at > session) limit(instance.handRoom[at]!, instance.turnTicks[shape]!);
  }
  limit(
    instance.handRoom[unmold]!,
    instance.unmoldTicks[shape]! + (pack === unmold ? instance.packTicks[shape]! : 0),
  );
  if (pack !== unmold) limit(instance.handRoom[pack]!, instance.packTicks[shape]!);
  const grams = instance.weightOf[product]!;
  limit(instance.bowlRoom[session]! * instance.bowlGrams, grams);
  limit(
    instance.handRoom[session]! - instance.cleanTicks,
    instance.formTicks[shape]! +
      instance.turnTicks[shape]! +
      (instance.mixTicks * grams) / instance.bowlGrams,
  );
  return Math.max(0, most);
}
