import { CheapestOffers, type Offers } from "./cheapestOffers.ts";
import { asReadyTerms, completeTerms, type Instance, unlimited } from "./search/instance.ts";

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
  readonly #choice: CheapestOffers;
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
    const formed = mostFormed(instance);
    this.#formingTicks = formingTicks(instance, formed);
    this.#granule = costGranule(instance);
    this.#offers = collectOffers(instance, formed);
    this.#choice = new CheapestOffers(this.#offers);
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
    const choice = this.#choice;
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
      choice.open(line, lineUnits[line]!);
      choice.upTo(line, Number.POSITIVE_INFINITY, without);
      this.#useChoice(line);
      sum += choice.cost(line) + choice.left(line) * without;
    }
    return sum;
  }

  /** Every possible last day in turn, each line from the cheapest supplies up to then; or nothing at all. */
  #cheapestComplete(order: number): number {
    const { firstLine, orderWeight, orderUnits, orderDue, orderNever, lineUnits } = this.#instance;
    const choice = this.#choice;
    const due = orderDue[order]!;
    const perDay = orderWeight[order]! * orderUnits[order]!;
    const firstOfOrder = firstLine[order]!;
    const endOfOrder = firstLine[order + 1]!;
    let least = perDay * orderNever[order]!;
    let lastDay = Number.NEGATIVE_INFINITY;
    for (let line = firstOfOrder; line < endOfOrder; line++) choice.open(line, lineUnits[line]!);
    for (let day = due; day !== Number.POSITIVE_INFINITY; ) {
      let sum = perDay * Math.max(0, day - due);
      if (sum >= least) break;
      let next = Number.POSITIVE_INFINITY;
      for (let line = firstOfOrder; line < endOfOrder; line++) {
        choice.upTo(line, day, Number.POSITIVE_INFINITY);
        sum += choice.left(line) > 0 ? Number.POSITIVE_INFINITY : choice.cost(line);
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
      choice.open(line, lineUnits[line]!);
      choice.upTo(line, lastDay, Number.POSITIVE_INFINITY);
      this.#useChoice(line);
    }
    return least;
  }

  #priceOffers(line: number): void {
    const { price, first } = this.#offers;
    for (let at = first[line]!; at < first[line + 1]!; at++) {
      price[at] = this.#walkOffer(line, at, this.#price, null, 1);
    }
  }

  #useChoice(line: number): void {
    this.#choice.each(line, (offer, units) => this.#walkOffer(line, offer, this.#price, this.#use, units));
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

function collectOffers(instance: Instance, formed: Int32Array): Offers {
  const { sessions, lines, firstReady, readyDay, shapeOf } = instance;
  // Mostly the earlier a session, the earlier its pieces are ready, but damp days dry slowly.
  const byDay = Array.from({ length: instance.shapes }, (_, shape) =>
    Int32Array.from({ length: sessions }, (_, session) => session).sort(
      (a, b) => readyDay[shape * sessions + a]! - readyDay[shape * sessions + b]! || a - b,
    ),
  );
  let size = 0;
  for (let line = 0; line < lines; line++) {
    const product = instance.lineProduct[line]!;
    size += sessions + firstReady[product + 1]! - firstReady[product]!;
  }
  const first = new Int32Array(lines + 1);
  const source = new Int32Array(size);
  const day = new Int32Array(size);
  const units = new Int32Array(size);
  let count = 0;
  for (let line = 0; line < lines; line++) {
    const product = instance.lineProduct[line]!;
    const shape = shapeOf[product]!;
    let ready = firstReady[product]!;
    const addReady = (until: number) => {
      for (; ready < firstReady[product + 1]! && instance.readyDays[ready]! <= until; ready++) {
        source[count] = -1 - ready;
        day[count] = instance.readyDays[ready]!;
        units[count] = instance.readyUnits[ready]!;
        count += 1;
      }
    };
    for (const session of byDay[shape]!) {
      const most = Math.min(instance.lineUnits[line]!, formed[product * sessions + session]!);
      if (most === 0) continue;
      addReady(readyDay[shape * sessions + session]!);
      source[count] = session;
      day[count] = readyDay[shape * sessions + session]!;
      units[count] = most;
      count += 1;
    }
    addReady(Number.POSITIVE_INFINITY);
    first[line + 1] = count;
  }
  return {
    first,
    source: source.subarray(0, count),
    day: day.subarray(0, count),
    units: units.subarray(0, count),
    price: new Float64Array(count),
  };
}

/** Hand ticks a piece takes where it is formed, with the least share of a bowl and of a clean-down any run allows. */
function formingTicks(instance: Instance, formed: Int32Array): Float64Array {
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
        const most = Math.min(demand[product]!, formed[product * sessions + session]!);
        largest += most * instance.weightOf[product]!;
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

/** By product and session: most pieces that an otherwise empty workshop can form. */
function mostFormed(instance: Instance): Int32Array {
  const { sessions, products } = instance;
  const most = new Int32Array(products * sessions);
  for (let product = 0; product < products; product++) {
    for (let session = 0; session < sessions; session++) {
      most[product * sessions + session] = mostFormedIn(instance, product, session);
    }
  }
  return most;
}

function mostFormedIn(instance: Instance, product: number, session: number): number {
  const { sessions, trayRoom, handRoom } = instance;
  const shape = instance.shapeOf[product]!;
  const unmold = instance.unmold[shape * sessions + session]!;
  const pack = instance.pack[shape * sessions + session]!;
  if (pack < 0 || instance.bowlRoom[session] === 0) return 0;
  let most = unlimited;
  const perTray = instance.unitsPerTray[shape]!;
  for (let at = session; at < pack; at++) most = Math.min(most, trayRoom[at]! * perTray);
  if (instance.holdsMold[shape] === 1) {
    const molds = shape * sessions;
    for (let at = session; at < unmold; at++) most = Math.min(most, instance.moldRoom[molds + at]!);
  }
  const turn = instance.turnTicks[shape]!;
  for (let at = session + 1; at < unmold; at++) most = within(most, handRoom[at]!, turn);
  const packTicks = instance.packTicks[shape]!;
  most = within(most, handRoom[unmold]!, instance.unmoldTicks[shape]! + (pack === unmold ? packTicks : 0));
  if (pack !== unmold) most = within(most, handRoom[pack]!, packTicks);
  const grams = instance.weightOf[product]!;
  most = within(most, instance.bowlRoom[session]! * instance.bowlGrams, grams);
  const forming = instance.formTicks[shape]! + turn + (instance.mixTicks * grams) / instance.bowlGrams;
  return Math.max(0, within(most, handRoom[session]! - instance.cleanTicks, forming));
}

/** As many of `most` pieces as have room, taking `perPiece` of it each. */
function within(most: number, room: number, perPiece: number): number {
  return room < most * perPiece ? Math.floor(room / perPiece) : most;
}
