import type { Stop } from "../stop.ts";
import type { Best } from "./best.ts";
import { CaseSize } from "./caseSize.ts";
import { Cooling, type CoolingOptions } from "./cooling.ts";
import { FreshStart } from "./freshStart.ts";
import { Insertion, type InsertionTaste } from "./insertion.ts";
import { ticksPerMinute } from "./instance.ts";
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

/** First schedule: orders by ship-by date, each served as well as is possible after those before it. */
export function build(schedule: Schedule, random: Random): void {
  const insertion = new Insertion(schedule, random, new Int32Array(schedule.instance.blends).fill(-1));
  schedule.valueHands(1e-3 / ticksPerMinute);
  const { orders, orderDue, orderWeight } = schedule.instance;
  const sequence = Array.from({ length: orders }, (_, order) => order).sort(
    (a, b) => orderDue[a]! - orderDue[b]! || orderWeight[b]! - orderWeight[a]! || a - b,
  );
  for (const order of sequence) {
    if (insertion.serve(order)) schedule.keep();
    else schedule.undo();
  }
}

/**
 * Ruin and recreate under simulated annealing (Schrimpf et al. 2000; the taking-out of neighbours and the overlooking
 * of options after Christiaens and Vanden Berghe 2020).
 */
export function anneal(schedule: Schedule, options: AnnealOptions): Best {
  const { seed, isGood, stop, onBetter } = options;
  const random = new Random(seed);
  const ruin = new Ruin(schedule, random);
  const bench = new OneBench(schedule);
  const resequencing = new Resequencing(schedule, random, bench);
  const freshStart = new FreshStart(schedule, bench, random);
  const shares = new MoveShares();
  const insertion = new Insertion(schedule, random, ruin.wishes);
  const size = new CaseSize(schedule.instance);
  const usual: InsertionTaste = {
    ...insertion.taste,
    blink: size.between(insertion.taste.blink, smallCaseBlink),
    part: size.between(insertion.taste.part, smallCasePart),
  };
  const strict: InsertionTaste = { ...strictTaste, worthShare: 1 };
  const { cells } = schedule;
  const best: Best = {
    cells: cells.slice(),
    cost: cells[schedule.cost]!,
    ticks: cells[schedule.ticks]!,
  };
  if (schedule.instance.orders === 0) return best;
  const sequence = new Int32Array(schedule.instance.orders);
  const cooling = new Cooling(schedule, best, size, options);
  const note = () => {
    best.cells.set(cells);
    best.cost = cells[schedule.cost]!;
    best.ticks = cells[schedule.ticks]!;
    onBetter(best);
  };
  for (let iteration = 0; ; iteration++) {
    const progress = stop.progress(iteration);
    if (progress >= 1) return best;
    cooling.turn(progress);
    if (!isGood && !cooling.isPolishing && freshStart.isDue(progress)) {
      insertion.taste = strict;
      insertion.denied = -1;
      ruin.forget();
      if (freshStart.replace(insertion, best.cost)) note();
    }
    if (iteration % pace === 0) {
      bench.look();
      cooling.look(progress);
    }
    const isSequence = random.fraction() < shares.share;
    insertion.taste = isSequence ? strict : usual;
    insertion.taste.worthShare = worthShares[random.below(worthShares.length)]!;
    const before = cells[schedule.cost]! + cells[schedule.worthUsed]!;
    const limit = before + random.patience(cooling.temperature);
    if (isSequence) ruin.forget();
    const isStruck = isSequence ? resequencing.strike(cooling.temperature) : ruin.strike();
    const { count, touched } = isSequence ? resequencing : ruin;
    let settled = cells[schedule.cost]!;
    for (let at = 0; at < count; at++) {
      sequence[at] = touched[at]!;
      settled -= cells[schedule.orderCost + sequence[at]!]!;
    }
    insertion.denied = isSequence ? -1 : deny(schedule, random);
    if (!isSequence) arrange(schedule, sequence, count, random);
    schedule.checkpoint();
    let isKept = isStruck && putBack(schedule, insertion, sequence, count, settled, limit);
    // Most ruins lead nowhere at once, though what was taken out can be put back in other ways: each gets a second chance. Not
    // in small cases: there another ruin costs next to nothing and finds more.
    if (!isKept && isStruck && !isSequence && !size.isSmall) {
      schedule.undoToCheckpoint();
      random.shuffle(sequence, count);
      insertion.taste.worthShare = worthShares[random.below(worthShares.length)]!;
      insertion.denied = deny(schedule, random);
      isKept = putBack(schedule, insertion, sequence, count, settled, limit);
    }
    if (!isKept) {
      shares.hear(isSequence, count, false);
      schedule.undo();
      continue;
    }
    schedule.keep();
    const cost = cells[schedule.cost]!;
    const isBest =
      cost < best.cost - 1e-9 || (cost <= best.cost + 1e-9 && cells[schedule.ticks]! < best.ticks);
    shares.hear(isSequence, count, isBest);
    if (isBest) note();
  }
}

/** Now and then a line and session that have just been taken from each other, as `Insertion.denied` has it; mostly -1. */
function deny({ unformed }: Schedule, random: Random): number {
  if (unformed.length === 0 || random.fraction() >= denial) return -1;
  return unformed[random.below(unformed.length)]!;
}

/**
 * Serves orders one after the other; false when the schedule then costs more than the limit, work at its worth, or can't stand.
 *
 * @param settled what all other orders cost
 */
function putBack(
  schedule: Schedule,
  insertion: Insertion,
  sequence: Int32Array,
  count: number,
  settled: number,
  limit: number,
): boolean {
  const { cells } = schedule;
  let cost = settled;
  for (let at = 0; at < count; at++) {
    const order = sequence[at]!;
    if (!insertion.serve(order)) return false;
    // Orders still to come can only add to what the others cost.
    cost += cells[schedule.orderCost + order]!;
    if (cost + cells[schedule.worthUsed]! > limit) return false;
  }
  return cells[schedule.cost]! + cells[schedule.worthUsed]! <= limit;
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
