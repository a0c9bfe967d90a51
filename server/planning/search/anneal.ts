import type { Stop } from "../stop.ts";
import { FreshStart } from "./freshStart.ts";
import { Insertion, type InsertionTaste } from "./insertion.ts";
import { type Instance, ticksPerMinute } from "./instance.ts";
import { MoveShares } from "./moveShares.ts";
import { OneBench } from "./oneBench.ts";
import { Random } from "./random.ts";
import { Resequencing } from "./resequencing.ts";
import { Ruin } from "./ruin.ts";
import { Scarcity } from "./scarcity.ts";
import type { Schedule } from "./schedule.ts";

/** Kept state of the best schedule, and what it costs. */
export interface Best {
  readonly cells: Float64Array;
  cost: number;
  ticks: number;
}

/**
 * What the annealing is tuned with. Temperatures are shares of what one day of lateness costs the average order; a
 * search that starts from a good plan starts cooler, so as not to lose it. Prices are the unit-days a hand minute
 * counts; they fall when `cheapHandsFrom` of the search is over.
 */
const hot = 1;
/** Beyond this many order lines, more than a week has, a search can't afford to begin that hot: it would not cool down in time. */
const hotLines = 48;
const leastHot = 0.1;
const warm = 0.3;
const cold = 0.12;
/** Shares of the search at which it goes back to the best so far: later on it would not find the way there any more. */
const returns = [0.4, 0.6, 0.75];
/**
 * Chance that a line may not go back to a session it was taken out of. Half of all moves end where they began, since
 * what was best is mostly still best.
 */
const denial = 0.3;
/** From here on only what is no worse is kept, beginning with the best so far. */
const polishFrom = 0.93;
const pricePerMinute = 0.8;
const lastPricePerMinute = 0.05;
/**
 * With fewer order lines than this, chance alone looks into every corner, and dear hands would close some. There is
 * time enough to overlook far more options, which opens the others.
 */
const guidedLines = 15;
const smallCaseBlink = 0.25;
/** There a run's pieces are split in every way, so that bowls which each carry their load are found. */
const smallCasePart = 0.12;
const smallCaseHot = 4;
const cheapHandsFrom = 0.8;
const polishPricePerMinute = 1e-3;
/** Placing counts the worth of room by a share drawn anew for every move, evenly on the scale of ratios. */
const leastWorthShare = 0.3;
const mostWorthShare = 3;
const worthShares = Array.from(
  { length: 64 },
  (_, at) => leastWorthShare * (mostWorthShare / leastWorthShare) ** ((at + 0.5) / 64),
);
/** Moves between two looks at temperature and prices. */
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
export function anneal(
  schedule: Schedule,
  seed: number,
  isGood: boolean,
  stop: Stop,
  onBetter: (best: Best) => void,
): Best {
  const random = new Random(seed);
  const ruin = new Ruin(schedule, random);
  const bench = new OneBench(schedule);
  const resequencing = new Resequencing(schedule, random, bench);
  const freshStart = new FreshStart(schedule, bench, random);
  const shares = new MoveShares();
  const insertion = new Insertion(schedule, random, ruin.wishes);
  const guidance = Math.min(1, schedule.instance.lines / guidedLines);
  const guided = (usually: number, inSmallCase: number) => usually * guidance + inSmallCase * (1 - guidance);
  const usual: InsertionTaste = {
    ...insertion.taste,
    blink: guided(insertion.taste.blink, smallCaseBlink),
    part: guided(insertion.taste.part, smallCasePart),
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
  const scale = dayOfLateness(schedule.instance);
  const cooled = Math.max(leastHot, hot * Math.min(1, hotLines / schedule.instance.lines));
  const start = scale * guided(isGood ? warm : cooled, smallCaseHot);
  const end = scale * cold;
  const scarcity = new Scarcity(schedule);
  let temperature = start;
  const note = () => {
    best.cells.set(cells);
    best.cost = cells[schedule.cost]!;
    best.ticks = cells[schedule.ticks]!;
    onBetter(best);
  };
  let polishing = false;
  let returned = 0;
  for (let iteration = 0; ; iteration++) {
    const progress = stop.progress(iteration);
    if (progress >= 1) return best;
    if (!polishing && progress >= polishFrom) {
      polishing = true;
      schedule.restore(best.cells);
      temperature = 0;
      schedule.valueHands(polishPricePerMinute / ticksPerMinute);
    }
    if (!polishing && progress >= (returns[returned] ?? 1)) {
      returned += 1;
      schedule.restore(best.cells);
      schedule.revalue();
    }
    if (!isGood && !polishing && freshStart.isDue(progress)) {
      insertion.taste = strict;
      insertion.denied = -1;
      ruin.forget();
      if (freshStart.replace(insertion, best.cost)) note();
    }
    if (iteration % pace === 0) bench.look();
    if (!polishing && iteration % pace === 0) {
      temperature = start * (end / start) ** (progress / polishFrom);
      const perMinute = progress < cheapHandsFrom ? pricePerMinute : lastPricePerMinute;
      const price = (perMinute * guidance) / ticksPerMinute;
      // Where nothing is late any more, all that is left to save is hands, wherever they are.
      if (best.cost > 0) scarcity.value(price);
      else schedule.valueHands(price);
    }
    const isSequence = random.fraction() < shares.share;
    insertion.taste = isSequence ? strict : usual;
    insertion.taste.worthShare = worthShares[random.below(worthShares.length)]!;
    const before = cells[schedule.cost]! + cells[schedule.worthUsed]!;
    const limit = before + random.patience(temperature);
    if (isSequence) ruin.forget();
    const isStruck = isSequence ? resequencing.strike(temperature) : ruin.strike();
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
    if (!isKept && isStruck && !isSequence && guidance === 1) {
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

/** Unit-days one day of lateness costs the average order that can cost anything. */
function dayOfLateness(instance: Instance): number {
  let sum = 0;
  let count = 0;
  for (let order = 0; order < instance.orders; order++) {
    const day = instance.orderWeight[order]! * instance.orderUnits[order]!;
    sum += day;
    if (day > 0) count += 1;
  }
  return count === 0 ? 1 : sum / count;
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
