import type { Random } from "./random.ts";
import type { Schedule } from "./schedule.ts";

/**
 * Ways of taking orders out of a schedule so that others may come in. Each leaves the orders it touched in `touched`;
 * their lines then miss units.
 */
export class Ruin {
  readonly touched: Int32Array;
  count = 0;
  readonly #schedule: Schedule;
  readonly #random: Random;
  readonly #isTouched: Uint8Array;

  constructor(schedule: Schedule, random: Random) {
    this.#schedule = schedule;
    this.#random = random;
    this.touched = new Int32Array(schedule.instance.orders);
    this.#isTouched = new Uint8Array(schedule.instance.orders);
  }

  /** Takes out about `size` orders by a way chosen at random; false when the rest can't stand without them. */
  strike(size: number): boolean {
    for (let at = 0; at < this.count; at++) this.#isTouched[this.touched[at]!] = 0;
    this.count = 0;
    const way = this.#random.fraction();
    if (way < 0.25) this.#scattered(size);
    else if (way < 0.55) this.#aroundSession(size, this.#sessionBefore(this.#costly()));
    else if (way < 0.7) this.#sameBlend(size);
    else if (way < 0.9) this.#wholeRun();
    else this.#linesOfSession(size);
    this.#addUnserved(2);
    return this.#schedule.settleRuns();
  }

  #touch(order: number): void {
    if (this.#isTouched[order] === 1) return;
    this.#isTouched[order] = 1;
    this.touched[this.count] = order;
    this.count += 1;
  }

  #takeOut(order: number): void {
    if (this.#isTouched[order] === 1) return;
    this.#touch(order);
    this.#schedule.clear(order);
  }

  #scattered(size: number): void {
    const { orders } = this.#schedule.instance;
    for (let at = 0; at < size; at++) this.#takeOut(this.#random.below(orders));
  }

  /** An order drawn with a liking for costly ones. */
  #costly(): number {
    const { cells, orderCost, instance } = this.#schedule;
    let best = this.#random.below(instance.orders);
    for (let draw = 0; draw < 2; draw++) {
      const other = this.#random.below(instance.orders);
      if (cells[orderCost + other]! > cells[orderCost + best]!) best = other;
    }
    return best;
  }

  /** A session in which the order, or one it competes with, is or could be formed. */
  #sessionBefore(order: number): number {
    const { instance, cells, made } = this.#schedule;
    this.#takeOutLater = order;
    const first = instance.firstLine[order]!;
    const line = first + this.#random.below(instance.firstLine[order + 1]! - first);
    if (line >= instance.firstLine[order + 1]!) return this.#random.below(instance.sessions);
    let latest = -1;
    for (let session = 0; session < instance.sessions; session++) {
      if (cells[made + line * instance.sessions + session]! > 0) latest = session;
    }
    if (latest < 0) latest = instance.sessions - 1;
    return this.#random.below(latest + 1);
  }

  #takeOutLater = -1;

  /** The costly order itself and orders formed in or about one session. */
  #aroundSession(size: number, session: number): void {
    if (this.#takeOutLater >= 0) this.#takeOut(this.#takeOutLater);
    this.#takeOutLater = -1;
    const { instance, cells, made } = this.#schedule;
    const reach = this.#random.below(2);
    const offset = this.#random.below(instance.lines);
    let left = size - 1;
    for (let step = 0; step < instance.lines && left > 0; step++) {
      const line = (offset + step) % instance.lines;
      for (
        let at = Math.max(0, session - reach);
        at <= Math.min(instance.sessions - 1, session + reach);
        at++
      ) {
        if (cells[made + line * instance.sessions + at]! > 0) {
          this.#takeOut(instance.lineOrder[line]!);
          left -= 1;
          break;
        }
      }
    }
  }

  #sameBlend(size: number): void {
    const { instance } = this.#schedule;
    if (instance.lines === 0) return;
    const blend = instance.blendOf[instance.lineProduct[this.#random.below(instance.lines)]!]!;
    const offset = this.#random.below(instance.lines);
    let left = size;
    for (let step = 0; step < instance.lines && left > 0; step++) {
      const line = (offset + step) % instance.lines;
      if (instance.blendOf[instance.lineProduct[line]!] !== blend) continue;
      this.#takeOut(instance.lineOrder[line]!);
      left -= 1;
    }
  }

  /** Only what one run gives to its orders. */
  #wholeRun(): void {
    const { instance, cells, made } = this.#schedule;
    if (instance.lines === 0) return;
    const line = this.#random.below(instance.lines);
    const blend = instance.blendOf[instance.lineProduct[line]!]!;
    const offset = this.#random.below(instance.sessions);
    for (let step = 0; step < instance.sessions; step++) {
      const session = (offset + step) % instance.sessions;
      if (cells[made + line * instance.sessions + session] === 0) continue;
      for (let other = 0; other < instance.lines; other++) {
        if (instance.blendOf[instance.lineProduct[other]!] !== blend) continue;
        if (cells[made + other * instance.sessions + session] === 0) continue;
        this.#schedule.unform(other, session);
        this.#touch(instance.lineOrder[other]!);
      }
      return;
    }
  }

  /** Some of what one session gives, the rest of those orders staying. */
  #linesOfSession(size: number): void {
    const { instance, cells, made } = this.#schedule;
    if (instance.lines === 0) return;
    const session = this.#random.below(instance.sessions);
    const offset = this.#random.below(instance.lines);
    let left = size;
    for (let step = 0; step < instance.lines && left > 0; step++) {
      const line = (offset + step) % instance.lines;
      if (cells[made + line * instance.sessions + session] === 0) continue;
      this.#schedule.unform(line, session);
      this.#touch(instance.lineOrder[line]!);
      left -= 1;
    }
  }

  /** Orders that have nothing or not enough get another chance with every ruin. */
  #addUnserved(most: number): void {
    const { instance, cells, served } = this.#schedule;
    if (instance.lines === 0) return;
    const offset = this.#random.below(instance.lines);
    let left = most;
    for (let step = 0; step < instance.lines && left > 0; step++) {
      const line = (offset + step) % instance.lines;
      if (cells[served + line] === instance.lineUnits[line]) continue;
      if (this.#isTouched[instance.lineOrder[line]!] === 1) continue;
      this.#touch(instance.lineOrder[line]!);
      left -= 1;
    }
  }
}
