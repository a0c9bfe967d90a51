import { asReadyTerms, completeTerms, type Instance, marketTerms } from "./instance.ts";
import type { Random } from "./random.ts";
import type { Schedule } from "./schedule.ts";

const marketDays = 7;

/** How an insertion weighs things; the annealing changes it as it goes. */
export interface InsertionTaste {
  /** Unit-days one hand tick is worth. */
  tickPrice: number;
  /** Chance that an option is overlooked, so that greedy choices are not always the same. */
  readonly blink: number;
  /** Chance that of equally good sessions the latest is taken, which leaves the early ones to others. */
  readonly leanLate: number;
  /** Chance that a supply gives only a part of what it could, the rest coming from elsewhere. */
  readonly part: number;
}

/**
 * Serves what orders still miss, each order as well as it can be without moving anything else. A line may be served
 * from several supplies: stock and drying pieces, and sessions in which it can be formed.
 */
export class Insertion {
  readonly taste: InsertionTaste = { tickPrice: 0, blink: 0.01, leanLate: 0.7, part: 0.05 };
  readonly #schedule: Schedule;
  readonly #instance: Instance;
  readonly #random: Random;
  /** Sessions in which a shape can be formed: `#formable[#firstFormable[shape]] ..`. */
  readonly #formable: Int32Array;
  readonly #firstFormable: Int32Array;
  readonly #option: Int32Array;
  readonly #optionDay: Int32Array;
  readonly #optionUnits: Float64Array;
  readonly #optionScore: Float64Array;
  /** Decides between equal scores: the lower comes first. */
  readonly #optionTie: Int32Array;
  #lean = 1;
  #options = 0;
  readonly #lineOrder: Int32Array;
  /** By blend: a session in which opening a run counts nothing, -1 for none. */
  readonly #wishes: Int32Array;
  readonly #opening: number;

  constructor(schedule: Schedule, random: Random, wishes: Int32Array) {
    this.#schedule = schedule;
    this.#random = random;
    const instance = schedule.instance;
    this.#instance = instance;
    const formable: number[] = [];
    this.#firstFormable = new Int32Array(instance.shapes + 1);
    for (let shape = 0; shape < instance.shapes; shape++) {
      for (let session = 0; session < instance.sessions; session++) {
        if (instance.pack[shape * instance.sessions + session]! >= 0) formable.push(session);
      }
      this.#firstFormable[shape + 1] = formable.length;
    }
    this.#formable = Int32Array.from(formable);
    let most = 0;
    for (let product = 0; product < instance.products; product++) {
      most = Math.max(most, instance.firstReady[product + 1]! - instance.firstReady[product]!);
    }
    most += instance.sessions;
    this.#option = new Int32Array(most);
    this.#optionDay = new Int32Array(most);
    this.#optionUnits = new Float64Array(most);
    this.#optionScore = new Float64Array(most);
    this.#optionTie = new Int32Array(most);
    this.#lineOrder = new Int32Array(instance.lines);
    this.#wishes = wishes;
    this.#opening = instance.cleanTicks + instance.mixTicks;
  }

  /**
   * Serves what the order misses and prices it. A complete order that can't be served whole is left with nothing; false
   * when the runs it would have shared can't stand without it, and then only `undo` helps.
   */
  serve(order: number): boolean {
    const { firstLine, orderTerms } = this.#instance;
    this.#lean = this.#random.fraction() < this.taste.leanLate ? -1 : 1;
    const first = firstLine[order]!;
    const count = firstLine[order + 1]! - first;
    for (let at = 0; at < count; at++) this.#lineOrder[at] = first + at;
    this.#random.shuffle(this.#lineOrder, count);
    for (let at = 0; at < count; at++) {
      const line = this.#lineOrder[at]!;
      const missing = this.#schedule.missing(line);
      if (missing === 0) continue;
      this.#collect(line, missing);
      const left = this.#fill(line, missing);
      if (left > 0 && orderTerms[order] === completeTerms) {
        this.#schedule.clear(order);
        if (!this.#schedule.settleRuns()) return false;
        break;
      }
    }
    this.#schedule.reprice(order);
    return true;
  }

  /** Lists every supply the line could use, with the units it offers and its score per unit. */
  #collect(line: number, missing: number): void {
    const instance = this.#instance;
    const schedule = this.#schedule;
    const product = instance.lineProduct[line]!;
    const order = instance.lineOrder[line]!;
    const terms = instance.orderTerms[order]!;
    const due = instance.orderDue[order]!;
    this.#options = 0;
    for (let ready = instance.firstReady[product]!; ready < instance.firstReady[product + 1]!; ready++) {
      const left = schedule.cells[schedule.readyLeft + ready]!;
      if (left === 0 || (terms === marketTerms && instance.readyDays[ready]! > due)) continue;
      if (this.#random.fraction() < this.taste.blink) continue;
      this.#addOption(-1 - ready, instance.readyDays[ready]!, Math.min(left, missing), 0);
    }
    const shape = instance.shapeOf[product]!;
    const shapeSessions = shape * instance.sessions;
    const wish = this.#wishes[instance.blendOf[product]!]!;
    const last = this.#firstFormable[shape + 1]!;
    for (let at = this.#firstFormable[shape]!; at < last; at++) {
      const session = this.#formable[at]!;
      const day = instance.readyDay[shapeSessions + session]!;
      if (terms === marketTerms && day > due) break;
      if (this.#random.fraction() < this.taste.blink) continue;
      schedule.probe(product, session, missing);
      if (schedule.probed.units > 0) {
        const { units, ticks } = schedule.probed;
        this.#addOption(session, day, units, session === wish ? ticks - this.#opening : ticks);
      }
    }
    this.#score(order, missing);
  }

  #addOption(source: number, day: number, units: number, ticks: number): void {
    const at = this.#options++;
    this.#option[at] = source;
    this.#optionDay[at] = day;
    this.#optionUnits[at] = units;
    this.#optionScore[at] = ticks / units;
    this.#optionTie[at] = this.#lean * source;
  }

  /** Turns ticks per unit into a score per unit that counts lateness too; lower is better. */
  #score(order: number, missing: number): void {
    const instance = this.#instance;
    const terms = instance.orderTerms[order]!;
    const weight = instance.orderWeight[order]!;
    const due = instance.orderDue[order]!;
    const price = this.taste.tickPrice;
    if (terms === completeTerms) {
      const finish = this.#finishDay(order, missing);
      const perDay = (weight * instance.orderUnits[order]!) / missing;
      for (let at = 0; at < this.#options; at++) {
        const over = Math.max(0, this.#optionDay[at]! - finish);
        this.#optionScore[at] = this.#optionScore[at]! * price + over * perDay;
      }
      return;
    }
    const never = terms === asReadyTerms ? instance.orderNever[order]! : marketDays;
    let kept = 0;
    for (let at = 0; at < this.#options; at++) {
      const late = Math.max(0, this.#optionDay[at]! - due) * weight;
      const score = this.#optionScore[at]! * price + late;
      if (score >= never * weight) continue;
      this.#option[kept] = this.#option[at]!;
      this.#optionDay[kept] = this.#optionDay[at]!;
      this.#optionUnits[kept] = this.#optionUnits[at]!;
      this.#optionTie[kept] = this.#optionTie[at]!;
      this.#optionScore[kept] = score;
      kept += 1;
    }
    this.#options = kept;
  }

  /** Earliest day by which the options can serve the line, but not before the rest of the order or its ship-by. */
  #finishDay(order: number, missing: number): number {
    let finish = Math.max(this.#instance.orderDue[order]!, this.#schedule.lastDay(order));
    for (;;) {
      let units = 0;
      let next = Number.POSITIVE_INFINITY;
      for (let at = 0; at < this.#options; at++) {
        const day = this.#optionDay[at]!;
        if (day <= finish) units += this.#optionUnits[at]!;
        else if (day < next) next = day;
      }
      if (units >= missing || next === Number.POSITIVE_INFINITY) return finish;
      finish = next;
    }
  }

  /** Takes the best options one after the other until the line is served; gives back what is left. */
  #fill(line: number, missing: number): number {
    const schedule = this.#schedule;
    const product = this.#instance.lineProduct[line]!;
    let left = missing;
    while (left > 0) {
      let best = -1;
      for (let at = 0; at < this.#options; at++) {
        if (best < 0 || this.#isBefore(at, best)) best = at;
      }
      if (best < 0 || this.#optionScore[best] === Number.POSITIVE_INFINITY) return left;
      this.#optionScore[best] = Number.POSITIVE_INFINITY;
      const source = this.#option[best]!;
      if (source < 0) {
        const units = Math.min(left, this.#optionUnits[best]!);
        schedule.take(line, -1 - source, units);
        left -= units;
        continue;
      }
      const isPart = this.#random.fraction() < this.taste.part;
      if (left < missing || isPart)
        schedule.probe(product, source, isPart ? 1 + this.#random.below(left) : left);
      else schedule.probed.units = this.#optionUnits[best]!;
      const units = schedule.probed.units;
      if (units === 0) continue;
      schedule.form(line, source, units);
      left -= units;
    }
    return 0;
  }

  #isBefore(at: number, other: number): boolean {
    const difference = this.#optionScore[at]! - this.#optionScore[other]!;
    if (difference < -1e-9) return true;
    return difference < 1e-9 && this.#optionTie[at]! < this.#optionTie[other]!;
  }
}
