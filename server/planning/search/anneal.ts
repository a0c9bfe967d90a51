import type { Stop } from "../stop.ts";
import { Best } from "./best.ts";
import { CaseSize } from "./caseSize.ts";
import { Cooling, type CoolingOptions } from "./cooling.ts";
import { FreshStart } from "./freshStart.ts";
import { Insertion, type InsertionTaste } from "./insertion.ts";
import { MoveShares } from "./moveShares.ts";
import { OneBench } from "./oneBench.ts";
import { Random } from "./random.ts";
import { Resequencing } from "./resequencing.ts";
import { Ruin } from "./ruin.ts";
import type { Schedule } from "./schedule.ts";

export interface AnnealOptions extends CoolingOptions {
  readonly seed: number;
  readonly stop: Stop;
  readonly onBetter: (best: Best) => void;
}

/**
 * Chance that a line may not go back to a session it was taken out of. Half of all moves end where they began, since
 * what was best is mostly still best.
 */
const denial = 0.3;
/** In small cases there is time enough to overlook far more options, which opens others. */
const smallCaseBlink = 0.25;
/** There a run's pieces are split in every way, so that bowls which each carry their load are found. */
const smallCasePart = 0.12;
/** Placing counts the worth of room by a share drawn anew for every move, evenly on the scale of ratios. */
const leastWorthShare = 0.3;
const mostWorthShare = 3;
const worthShares = Array.from(
  { length: 64 },
  (_, at) => leastWorthShare * (mostWorthShare / leastWorthShare) ** ((at + 0.5) / 64),
);
/** Moves between two looks at what has changed meanwhile. */
const pace = 64;

/** Orders in a new sequence are placed without chance: the sequence is what is tried. */
const strictTaste: Omit<InsertionTaste, "worthShare"> = { blink: 0, leanLate: 1, part: 0 };

/**
 * Ruin and recreate under simulated annealing (Schrimpf et al. 2000; the taking-out of neighbours and the overlooking
 * of options after Christiaens and Vanden Berghe 2020).
 */
export function anneal(schedule: Schedule, options: AnnealOptions): Best {
  return new Annealing(schedule, options).run();
}

/**
 * One search. Each move is a call of its own and not a turn of one long loop: code that has been compiled in the middle of
 * a loop that never ends is thrown away with it, and the next search would begin slowly.
 */
class Annealing {
  readonly #schedule: Schedule;
  readonly #options: AnnealOptions;
  readonly #random: Random;
  readonly #size: CaseSize;
  readonly #best: Best;
  readonly #ruin: Ruin;
  readonly #bench: OneBench;
  readonly #resequencing: Resequencing;
  readonly #freshStart: FreshStart;
  readonly #shares = new MoveShares();
  readonly #insertion: Insertion;
  readonly #usual: InsertionTaste;
  readonly #strict: InsertionTaste = { ...strictTaste, worthShare: 1 };
  readonly #cooling: Cooling;
  /** Orders of a move, as they come back. */
  readonly #sequence: Int32Array;

  constructor(schedule: Schedule, options: AnnealOptions) {
    this.#schedule = schedule;
    this.#options = options;
    const { instance } = schedule;
    this.#random = new Random(options.seed);
    this.#size = new CaseSize(instance);
    this.#best = new Best(schedule);
    this.#ruin = new Ruin(schedule, this.#random);
    this.#bench = new OneBench(schedule);
    this.#resequencing = new Resequencing(schedule, this.#random, this.#bench);
    this.#freshStart = new FreshStart(schedule, this.#bench, this.#random);
    this.#insertion = new Insertion(schedule, this.#random, this.#ruin.wishes);
    this.#usual = {
      ...this.#insertion.taste,
      blink: this.#size.between(this.#insertion.taste.blink, smallCaseBlink),
      part: this.#size.between(this.#insertion.taste.part, smallCasePart),
    };
    this.#cooling = new Cooling(schedule, this.#best, this.#size, options);
    this.#sequence = new Int32Array(instance.orders);
  }

  run(): Best {
    if (this.#schedule.instance.orders === 0) return this.#best;
    const { stop } = this.#options;
    for (let moves = 0; ; moves++) {
      const progress = stop.progress(moves);
      if (progress >= 1) return this.#best;
      this.#cooling.turn(progress);
      if (this.#isFreshStartDue(progress)) this.#startAfresh();
      if (moves % pace === 0) {
        this.#bench.look();
        this.#cooling.look(progress);
      }
      if (this.#random.fraction() < this.#shares.share) this.#resequence();
      else this.#ruinAndRecreate();
    }
  }

  #isFreshStartDue(progress: number): boolean {
    return !this.#options.isGood && !this.#cooling.isPolishing && this.#freshStart.isDue(progress);
  }

  #startAfresh(): void {
    this.#insertion.taste = this.#strict;
    this.#insertion.denied = -1;
    this.#ruin.forget();
    if (this.#freshStart.replace(this.#insertion, this.#best.cost)) this.#note();
  }

  /** A move of the second neighbourhood: orders come back in a new sequence, each as well as those before it allow. */
  #resequence(): void {
    this.#insertion.taste = this.#strict;
    this.#drawWorthShare();
    const limit = this.#drawLimit();
    this.#ruin.forget();
    const isStruck = this.#resequencing.strike(this.#cooling.temperature);
    const { touched, count } = this.#resequencing;
    const settled = this.#settledBeside(touched, count);
    this.#insertion.denied = -1;
    this.#end(true, count, isStruck && this.#putBack(count, settled, limit));
  }

  /** A move of the first neighbourhood: some of the schedule is taken out and comes back as chance would have it. */
  #ruinAndRecreate(): void {
    const schedule = this.#schedule;
    this.#insertion.taste = this.#usual;
    this.#drawWorthShare();
    const limit = this.#drawLimit();
    const isStruck = this.#ruin.strike();
    const { touched, count } = this.#ruin;
    const settled = this.#settledBeside(touched, count);
    this.#insertion.denied = deny(schedule, this.#random);
    arrange(schedule, this.#sequence, count, this.#random);
    schedule.checkpoint();
    let isKept = isStruck && this.#putBack(count, settled, limit);
    // Most ruins lead nowhere at once, though what was taken out can be put back in other ways: each gets a second chance. Not
    // in small cases: there another ruin costs next to nothing and finds more.
    if (!isKept && isStruck && !this.#size.isSmall) {
      schedule.undoToCheckpoint();
      this.#random.shuffle(this.#sequence, count);
      this.#drawWorthShare();
      this.#insertion.denied = deny(schedule, this.#random);
      isKept = this.#putBack(count, settled, limit);
    }
    this.#end(false, count, isKept);
  }

  #drawWorthShare(): void {
    this.#insertion.taste.worthShare = worthShares[this.#random.below(worthShares.length)]!;
  }

  /** What the schedule may cost after a move, work at its worth. */
  #drawLimit(): number {
    const { cells, cost, worthUsed } = this.#schedule;
    return cells[cost]! + cells[worthUsed]! + this.#random.patience(this.#cooling.temperature);
  }

  /** Notes the orders of a move as its sequence, and returns what all others cost. */
  #settledBeside(touched: Int32Array, count: number): number {
    const { cells, cost, orderCost } = this.#schedule;
    let settled = cells[cost]!;
    for (let at = 0; at < count; at++) {
      this.#sequence[at] = touched[at]!;
      settled -= cells[orderCost + touched[at]!]!;
    }
    return settled;
  }

  /**
   * Serves the orders of the sequence one after the other; false when the schedule then costs more than the limit, work at its
   * worth, or can't stand.
   *
   * @param settled what all other orders cost
   */
  #putBack(count: number, settled: number, limit: number): boolean {
    const { cells, orderCost, cost, worthUsed } = this.#schedule;
    let soFar = settled;
    for (let at = 0; at < count; at++) {
      const order = this.#sequence[at]!;
      if (!this.#insertion.serve(order)) return false;
      // Orders still to come can only add to what the others cost.
      soFar += cells[orderCost + order]!;
      if (soFar + cells[worthUsed]! > limit) return false;
    }
    return cells[cost]! + cells[worthUsed]! <= limit;
  }

  /** Keeps what a move made of the schedule, or takes it back. */
  #end(isSequence: boolean, count: number, isKept: boolean): void {
    const schedule = this.#schedule;
    if (!isKept) {
      this.#shares.hear(isSequence, count, false);
      schedule.undo();
      return;
    }
    schedule.keep();
    const cost = schedule.lateness;
    const best = this.#best;
    const isBest =
      cost < best.cost - 1e-9 || (cost <= best.cost + 1e-9 && schedule.cells[schedule.ticks]! < best.ticks);
    this.#shares.hear(isSequence, count, isBest);
    if (isBest) this.#note();
  }

  /** The schedule is the best so far. */
  #note(): void {
    const { cells, lateness, ticks } = this.#schedule;
    this.#best.cells.set(cells);
    this.#best.cost = lateness;
    this.#best.ticks = cells[ticks]!;
    this.#options.onBetter(this.#best);
  }
}

/** Now and then a line and session that have just been taken from each other, as `Insertion.denied` has it; mostly -1. */
function deny({ unformed }: Schedule, random: Random): number {
  if (unformed.length === 0 || random.fraction() >= denial) return -1;
  return unformed[random.below(unformed.length)]!;
}

/** Order in which touched orders come back: as they were taken out, by chance, by date, the costliest or the smallest first. */
function arrange(schedule: Schedule, sequence: Int32Array, count: number, random: Random): void {
  const way = random.fraction();
  if (way < 0.1) return;
  random.shuffle(sequence, count);
  if (way < 0.45) return;
  const { orderDue, orderWeight, orderUnits } = schedule.instance;
  const key = (order: number) =>
    way < 0.65
      ? orderDue[order]!
      : way < 0.82
        ? -orderWeight[order]! * orderUnits[order]!
        : orderUnits[order]!;
  for (let at = 1; at < count; at++) {
    const order = sequence[at]!;
    let to = at;
    while (to > 0 && key(sequence[to - 1]!) > key(order)) {
      sequence[to] = sequence[to - 1]!;
      to -= 1;
    }
    sequence[to] = order;
  }
}
