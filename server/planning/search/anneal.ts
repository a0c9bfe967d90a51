import type { Stop } from "../stop.ts";
import { Insertion } from "./insertion.ts";
import { ticksPerMinute } from "./instance.ts";
import { Random } from "./random.ts";
import { Ruin } from "./ruin.ts";
import type { Schedule } from "./schedule.ts";

/** Kept state of the best schedule, and what it costs. */
export interface Best {
  readonly cells: Float64Array;
  cost: number;
  ticks: number;
}

export const tuning = { hot: 30, cold: 0.3, price: 0.1, blink: 0.02, size: 4 };

/** First schedule: orders by ship-by date, each served as well as is possible after those before it. */
export function build(schedule: Schedule, random: Random): void {
  const insertion = new Insertion(schedule, random);
  insertion.taste.tickPrice = 1e-3 / ticksPerMinute;
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
export function anneal(schedule: Schedule, seed: number, stop: Stop, onBetter: (best: Best) => void): Best {
  const random = new Random(seed);
  const insertion = new Insertion(schedule, random);
  const ruin = new Ruin(schedule, random);
  const { cells } = schedule;
  const best: Best = {
    cells: cells.slice(),
    cost: cells[schedule.cost]!,
    ticks: cells[schedule.ticks]!,
  };
  if (schedule.instance.orders === 0) return best;
  const sequence = new Int32Array(schedule.instance.orders);
  for (let iteration = 0; ; iteration++) {
    const progress = stop.progress(iteration);
    if (progress >= 1) return best;
    const temperature = tuning.hot * (tuning.cold / tuning.hot) ** Math.min(1, progress / 0.95);
    const price = (progress < 0.8 ? tuning.price : tuning.price * 0.1) / ticksPerMinute;
    insertion.taste.tickPrice = price;
    insertion.taste.blink = tuning.blink;
    const before = cells[schedule.cost]! + price * cells[schedule.ticks]!;
    let whole = ruin.strike(1 + random.below(tuning.size));
    if (whole) {
      const count = ruin.count;
      for (let at = 0; at < count; at++) sequence[at] = ruin.touched[at]!;
      arrange(schedule, sequence, count, random);
      for (let at = 0; whole && at < count; at++) whole = insertion.serve(sequence[at]!);
    }
    const after = cells[schedule.cost]! + price * cells[schedule.ticks]!;
    if (!whole || after > before - temperature * Math.log(random.fraction() + 1e-300)) {
      schedule.undo();
      continue;
    }
    schedule.keep();
    const cost = cells[schedule.cost]!;
    if (cost < best.cost - 1e-9 || (cost <= best.cost + 1e-9 && cells[schedule.ticks]! < best.ticks)) {
      best.cells.set(cells);
      best.cost = cost;
      best.ticks = cells[schedule.ticks]!;
      onBetter(best);
    }
  }
}

/** Order in which touched orders come back: by chance, by date, or the most urgent a day first. */
function arrange(schedule: Schedule, sequence: Int32Array, count: number, random: Random): void {
  random.shuffle(sequence, count);
  const way = random.fraction();
  if (way < 0.4) return;
  const { orderDue, orderWeight, orderUnits } = schedule.instance;
  const key = (order: number) =>
    way < 0.6 ? orderDue[order]! : way < 0.8 ? -orderWeight[order]! * orderUnits[order]! : orderUnits[order]!;
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
