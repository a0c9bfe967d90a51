import type { Instance } from "../search/instance.ts";
import { type BlendInSession, BlendRun } from "./blendRun.ts";
import type { Limits } from "./limits.ts";
import type { Offers } from "./offers.ts";

/** Steps a session's hand minutes are cut into. A run is taken to need the full steps in its minutes, never more. */
const steps = 64;

/**
 * What every session earns by itself when the pieces of each offer are paid for: which blends are run, in how many bowls,
 * and how the session's hands are shared between them.
 */
export class SessionSide {
  readonly #instance: Instance;
  readonly #offers: Offers;
  readonly #limits: Limits;
  readonly #marked: Uint8Array;
  /** Offers that are formed, by session and then blend. */
  readonly #list: Int32Array;
  readonly #runs: readonly BlendInSession[];
  /** Runs of session `s` are `firstRun[s] .. firstRun[s + 1] - 1`. */
  readonly #firstRun: Int32Array;
  readonly #blendRun: BlendRun;
  /** By shape and session: price of what a piece takes besides the hands of its session, and pieces formed. */
  readonly #later: Float64Array;
  readonly #formed: Float64Array;
  readonly #gain = new Float64Array(steps + 1);
  readonly #total = new Float64Array(steps + 1);
  /** By blend in question and steps of the session used so far: the steps of its run, -1 without one. */
  readonly #stepsOfRun: Int16Array;

  constructor(instance: Instance, offers: Offers, limits: Limits, marked: Uint8Array) {
    this.#instance = instance;
    this.#offers = offers;
    this.#limits = limits;
    this.#marked = marked;
    const { list, runs, firstRun } = listRuns(instance, offers);
    this.#list = list;
    this.#runs = runs;
    this.#firstRun = firstRun;
    this.#blendRun = new BlendRun(instance, offers, limits, list);
    this.#later = new Float64Array(instance.shapes * instance.sessions);
    this.#formed = new Float64Array(instance.shapes * instance.sessions);
    this.#stepsOfRun = new Int16Array(instance.blends * (steps + 1));
  }

  /**
   * Most that all sessions can earn. `price` has the limits' prices, then by offer what a unit is paid, then by offer
   * what its run is paid. What is used is added to `use`, what is supplied taken off it, both in the same places.
   */
  dearest(price: Float64Array, use: Float64Array): number {
    const { sessions, shapes, pack } = this.#instance;
    for (let shape = 0; shape < shapes; shape++) {
      for (let session = 0; session < sessions; session++) {
        const cell = shape * sessions + session;
        if (pack[cell]! >= 0) this.#later[cell] = this.#limits.priceOf(shape, session, price);
      }
    }
    this.#formed.fill(0);
    let sum = 0;
    for (let session = 0; session < sessions; session++) sum += this.#session(session, price, use);
    for (let cell = 0; cell < this.#formed.length; cell++) {
      const units = this.#formed[cell]!;
      if (units === 0) continue;
      const shape = Math.floor(cell / sessions);
      use[cell % sessions]! += units * this.#limits.formingMinutes[shape]!;
      this.#limits.take(shape, cell % sessions, units, use);
    }
    return sum;
  }

  #session(session: number, price: Float64Array, use: Float64Array): number {
    const room = this.#limits.room[session]!;
    const worth: BlendInSession[] = [];
    let minutes = 0;
    for (let at = this.#firstRun[session]!; at < this.#firstRun[session + 1]!; at++) {
      const run = this.#runs[at]!;
      const wanted = this.#open(run, price);
      if (wanted < 0) continue;
      worth.push(run);
      minutes += wanted;
    }
    if (worth.length > 1 && minutes > room) return this.#share(worth, room, price, use);
    let sum = 0;
    for (const run of worth) sum += this.#form(run, room, price, use);
    return sum;
  }

  /** Shares a session's minutes out between the blends worth a run: a knapsack over its steps. */
  #share(worth: readonly BlendInSession[], room: number, price: Float64Array, use: Float64Array): number {
    const width = steps + 1;
    const total = this.#total.fill(0);
    worth.forEach((run, index) => {
      const { from, to } = this.#gains(run, room, price);
      for (let used = steps; used >= 0; used--) {
        let most = total[used]!;
        let chosen = -1;
        for (let step = from; step <= Math.min(to, used); step++) {
          const sum = total[used - step]! + this.#gain[step]!;
          if (sum <= most) continue;
          most = sum;
          chosen = step;
        }
        total[used] = most;
        this.#stepsOfRun[index * width + used] = chosen;
      }
    });
    let used = steps;
    for (let index = worth.length - 1; index >= 0; index--) {
      const step = this.#stepsOfRun[index * width + used]!;
      if (step < 0) continue;
      this.#form(worth[index]!, minutesWithin(room, step), price, use);
      used -= step;
    }
    return total[steps]!;
  }

  /** What a run earns by its steps; it earns nothing before step `from` and no more after step `to`. */
  #gains(
    run: BlendInSession,
    room: number,
    price: Float64Array,
  ): { readonly from: number; readonly to: number } {
    this.#open(run, price);
    let from = steps + 1;
    let to = 0;
    for (let step = 0; step <= steps; step++) {
      const earned = this.#blendRun.earnings(minutesWithin(room, step));
      this.#gain[step] = earned;
      if (earned > 0 && from > steps) from = step;
      if (earned > this.#gain[to]!) to = step;
    }
    return { from, to };
  }

  #open(run: BlendInSession, price: Float64Array): number {
    let bonus = 0;
    const mark = this.#limits.count + this.#offers.source.length;
    for (let at = run.from; at < run.to; at++) {
      const offer = this.#list[at]!;
      if (this.#marked[this.#offers.line[offer]!] === 1) bonus += price[mark + offer]!;
    }
    return this.#blendRun.open(run, price, this.#later, bonus);
  }

  #form(run: BlendInSession, minutes: number, price: Float64Array, use: Float64Array): number {
    const blendRun = this.#blendRun;
    this.#open(run, price);
    const earned = blendRun.form(minutes);
    if (blendRun.bowls === 0) return 0;
    const { sessions, shapeOf, lineProduct } = this.#instance;
    const { session, from, to } = run;
    const supply = this.#limits.count;
    const mark = supply + this.#offers.source.length;
    for (let at = from; at < to; at++) {
      const offer = this.#list[at]!;
      const line = this.#offers.line[offer]!;
      if (this.#marked[line] === 1) use[mark + offer]! -= 1;
      use[supply + offer]! -= blendRun.formed[at]!;
      this.#formed[shapeOf[lineProduct[line]!]! * sessions + session]! += blendRun.formed[at]!;
    }
    this.#formed[shapeOf[blendRun.fillerProduct]! * sessions + session]! += blendRun.fillers;
    use[session]! += blendRun.fixedMinutes();
    use[this.#limits.bowls + session]! += blendRun.bowls;
    return earned;
  }
}

/** The most minutes of which so many are full steps. */
function minutesWithin(room: number, step: number): number {
  return Math.min(room, (room * (step + 1)) / steps);
}

function listRuns(instance: Instance, offers: Offers) {
  const blendOf = (at: number) => instance.blendOf[instance.lineProduct[offers.line[at]!]!]!;
  const sourceOf = (at: number) => offers.source[at]!;
  const list = Int32Array.from(offers.source.keys())
    .filter((at) => sourceOf(at) >= 0)
    .sort((a, b) => sourceOf(a) - sourceOf(b) || blendOf(a) - blendOf(b) || a - b);
  const runs: BlendInSession[] = [];
  const firstRun = new Int32Array(instance.sessions + 1);
  for (let from = 0; from < list.length; ) {
    const session = sourceOf(list[from]!);
    const blend = blendOf(list[from]!);
    let to = from + 1;
    while (to < list.length && sourceOf(list[to]!) === session && blendOf(list[to]!) === blend) to += 1;
    runs.push({ session, blend, from, to });
    firstRun.fill(runs.length, session + 1);
    from = to;
  }
  return { list, runs, firstRun };
}
