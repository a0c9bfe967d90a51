import { asReadyTerms, completeTerms, type Instance, marketDays, marketTerms } from "./instance.ts";
import { lastDay } from "./lateness.ts";
import type { Random } from "./random.ts";
import type { Schedule } from "./schedule.ts";
import { blockSessions } from "./scheduleState.ts";

/** How an insertion weighs things; the annealing changes it as it goes. */
export interface InsertionTaste {
  /** How much of the worth of the room an option takes counts beside lateness. */
  worthShare: number;
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
  taste: InsertionTaste = { worthShare: 1, blink: 0.01, leanLate: 0.7, part: 0.02 };
  readonly #schedule: Schedule;
  readonly #instance: Instance;
  readonly #random: Random;
  /** Supplies of each product. */
  readonly #sources: Sources;
  readonly #option: Int32Array;
  readonly #optionUnits: Float64Array;
  readonly #optionScore: Float64Array;
  /** A session denied to a line, as `line * sessions + session`; -1 for none. */
  denied = -1;
  #options = 0;
  /** Whether of equal options, which stand by the day they are ready, the last is taken. */
  #leansLate = true;
  readonly #lineOrder: Int32Array;
  /** By blend: a session in which opening a run counts nothing, -1 for none. */
  readonly #wishes: Int32Array;
  readonly #opening: number;

  constructor(schedule: Schedule, random: Random, wishes: Int32Array) {
    this.#schedule = schedule;
    this.#random = random;
    const instance = schedule.instance;
    this.#instance = instance;
    this.#sources = sourcesOf(instance);
    let most = 0;
    for (let product = 0; product < instance.products; product++) {
      most = Math.max(most, this.#sources.first[product + 1]! - this.#sources.first[product]!);
    }
    this.#option = new Int32Array(most);
    this.#optionUnits = new Float64Array(most);
    this.#optionScore = new Float64Array(most);
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
    this.#leansLate = this.#random.fraction() < this.taste.leanLate;
    const first = firstLine[order]!;
    const count = firstLine[order + 1]! - first;
    for (let at = 0; at < count; at++) this.#lineOrder[at] = first + at;
    this.#random.shuffle(this.#lineOrder, count);
    for (let at = 0; at < count; at++) {
      const line = this.#lineOrder[at]!;
      let left = this.#schedule.missing(line);
      // What is listed first may take each other's room: the rest is looked for anew.
      for (let before = left + 1; left > 0 && left < before; ) {
        before = left;
        this.#collect(line, left);
        left = this.#fill(line, left);
      }
      if (left > 0 && orderTerms[order] === completeTerms) {
        this.#schedule.clear(order);
        if (!this.#schedule.settleRuns()) return false;
        break;
      }
    }
    this.#schedule.reprice(order);
    return true;
  }

  /**
   * Lists the supplies the line could use, with the units they offer and their score per unit, of lateness and hands;
   * lower is better. A complete order is not late before the day by which it can be whole. Where a day is so late that
   * enough better ones are listed, the rest is not looked at.
   */
  #collect(line: number, missing: number): void {
    const instance = this.#instance;
    const schedule = this.#schedule;
    const { cells, probed } = schedule;
    const { first, source, day: sourceDay, startsBlock } = this.#sources;
    const product = instance.lineProduct[line]!;
    const order = instance.lineOrder[line]!;
    const terms = instance.orderTerms[order]!;
    const isComplete = terms === completeTerms;
    const due = instance.orderDue[order]!;
    const weight = instance.orderWeight[order]! * schedule.insistence[order]!;
    const latest = terms === marketTerms ? due : Number.POSITIVE_INFINITY;
    const perDay = isComplete ? (weight * instance.orderUnits[order]!) / missing : weight;
    const without = weight * (terms === asReadyTerms ? instance.orderNever[order]! : marketDays);
    const dearest = isComplete ? Number.POSITIVE_INFINITY : without;
    const { worthShare } = this.taste;
    const blend = instance.blendOf[product]!;
    const wish = this.#wishes[blend]!;
    const denied = this.denied - line * instance.sessions;
    let finish = isComplete ? Number.POSITIVE_INFINITY : due;
    let offered = 0;
    let worst = 0;
    this.#options = 0;
    const end = first[product + 1]!;
    for (let at = first[product]!; at < end; at++) {
      const day = sourceDay[at]!;
      if (day > latest) break;
      const lateness = day > finish ? (day - finish) * perDay : 0;
      if (offered >= missing && lateness > worst) break;
      const from = source[at]!;
      if (startsBlock[at] === 1 && schedule.isBlockShut(blend, from)) {
        at += blockSessions - 1;
        continue;
      }
      let units: number;
      let score = lateness;
      if (from < 0) {
        units = Math.min(missing, cells[schedule.readyLeft - 1 - from]!);
        if (units === 0 || this.#random.fraction() < this.taste.blink) continue;
      } else {
        if (from === denied) continue;
        if (schedule.isShut(product, blend, from) || this.#random.fraction() < this.taste.blink) continue;
        schedule.probe(product, from, missing);
        units = probed.units;
        if (units === 0) continue;
        const opening = from === wish ? this.#opening * schedule.worth.hands[from]! : 0;
        score += ((probed.worth - opening) / units) * worthShare;
      }
      if (score >= dearest) continue;
      this.#option[this.#options] = from;
      this.#optionUnits[this.#options] = units;
      this.#optionScore[this.#options] = score;
      this.#options += 1;
      if (offered >= missing) continue;
      offered += units;
      worst = Math.max(worst, score);
      if (offered >= missing && isComplete) finish = Math.max(due, lastDay(schedule, order), day);
    }
  }

  /** Takes the best options one after the other until the line is served; gives back what is left. */
  #fill(line: number, missing: number): number {
    let left = missing;
    while (left > 0) {
      const best = this.#best();
      if (best < 0) return left;
      // Others that are as good mostly stand right after it.
      const limit = this.#optionScore[best]! + 1e-9;
      const step = this.#leansLate ? -1 : 1;
      for (let at = best; left > 0 && at >= 0 && at < this.#options; at += step) {
        if (this.#optionScore[at]! > limit) continue;
        this.#optionScore[at] = Number.POSITIVE_INFINITY;
        left -= this.#supplyFrom(line, at, left, missing);
      }
    }
    return 0;
  }

  /** Option of the lowest score, of equal ones as the order leans; -1 where none is left. */
  #best(): number {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    const late = this.#leansLate ? 1e-9 : -1e-9;
    for (let at = 0; at < this.#options; at++) {
      if (this.#optionScore[at]! < least + late) {
        best = at;
        least = this.#optionScore[at]!;
      }
    }
    return best;
  }

  /** Gives a line what it needs of an option, or now and then only a part; returns how many units. */
  #supplyFrom(line: number, option: number, left: number, missing: number): number {
    const schedule = this.#schedule;
    const source = this.#option[option]!;
    let units = Math.min(left, this.#optionUnits[option]!);
    if (source < 0) {
      schedule.take(line, -1 - source, units);
      return units;
    }
    const isPart = this.#random.fraction() < this.taste.part;
    if (left < missing || isPart) {
      const want = isPart ? 1 + this.#random.below(left) : left;
      schedule.probe(this.#instance.lineProduct[line]!, source, want);
      units = schedule.probed.units;
    }
    if (units > 0) schedule.form(line, source, units);
    return units;
  }
}

/** Supplies of product `p` by the day they are ready: those of `first[p] .. first[p + 1] - 1`. */
interface Sources {
  readonly first: Int32Array;
  /** Session, or -1 minus the ready supply. */
  readonly source: Int32Array;
  readonly day: Int32Array;
  /** 1 where all sessions of a block stand, one after the other. */
  readonly startsBlock: Uint8Array;
}

function sourcesOf(instance: Instance): Sources {
  const { products, sessions, shapes, firstReady, readyDays, readyDay, pack, shapeOf } = instance;
  const formable = Array.from({ length: shapes }, (_, shape) =>
    Array.from({ length: sessions }, (_, session) => session)
      .filter((session) => pack[shape * sessions + session]! >= 0)
      .sort((a, b) => readyDay[shape * sessions + a]! - readyDay[shape * sessions + b]! || a - b),
  );
  const first = new Int32Array(products + 1);
  for (let product = 0; product < products; product++) {
    const supplies = firstReady[product + 1]! - firstReady[product]! + formable[shapeOf[product]!]!.length;
    first[product + 1] = first[product]! + supplies;
  }
  const source = new Int32Array(first[products]!);
  const day = new Int32Array(first[products]!);
  for (let product = 0; product < products; product++) {
    const shape = shapeOf[product]!;
    let at = first[product]!;
    let ready = firstReady[product]!;
    const put = (from: number, on: number) => {
      source[at] = from;
      day[at] = on;
      at += 1;
    };
    for (const session of formable[shape]!) {
      const on = readyDay[shape * sessions + session]!;
      for (; ready < firstReady[product + 1]! && readyDays[ready]! <= on; ready++)
        put(-1 - ready, readyDays[ready]!);
      put(session, on);
    }
    for (; ready < firstReady[product + 1]!; ready++) put(-1 - ready, readyDays[ready]!);
  }
  return { first, source, day, startsBlock: blockStarts(first, source) };
}

function blockStarts(first: Int32Array, source: Int32Array): Uint8Array {
  const starts = new Uint8Array(source.length);
  for (let product = 0; product + 1 < first.length; product++) {
    for (let at = first[product]!; at + blockSessions <= first[product + 1]!; at++) {
      if (source[at]! < 0 || source[at]! % blockSessions !== 0) continue;
      let length = 1;
      while (length < blockSessions && source[at + length] === source[at]! + length) length += 1;
      if (length === blockSessions) starts[at] = 1;
    }
  }
  return starts;
}
