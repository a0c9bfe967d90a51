import type { OneBench } from "./oneBench.ts";
import { OrderRow, type RowChange } from "./orderRow.ts";
import type { Random } from "./random.ts";

/** Changes tried for each order, and at most in all. */
const triesPerOrder = 900;
const mostTries = 40_000;
/** Changes drawn first, to learn what one may cost; temperatures are shares of that. */
const samples = 100;
const hot = 0.3;
const cold = 1e-4;
/**
 * Most places an order is shifted, drawn for each search: near changes are cheap and mostly best, but where few orders are
 * late, one that waits has to pass by nearly all others.
 */
const reaches = [5, 10, 20, 40];

/** What orders come to when they are served in such a sequence at one bench. */
export interface Sequence {
  readonly orders: Int32Array;
  /** Unit-days. */
  readonly cost: number;
}

/**
 * The sequence of least lateness at one bench that annealing finds, shifting and exchanging orders: total weighted
 * tardiness on one machine, for which these are the usual moves (Crauwels, Potts and Van Wassenhove 1998).
 */
export function sequenceAtOneBench(bench: OneBench, random: Random): Sequence {
  const row = new OrderRow(bench);
  const places = row.orders.length;
  row.measure();
  let cost = row.cost;
  let best = { orders: row.orders.slice(), cost };
  if (places < 2) return best;
  const reach = reaches[random.below(reaches.length)]!;
  const change: RowChange = { first: 0, last: 0, way: "exchange" };
  let scale = 0;
  for (let draw = 0; draw < samples; draw++) {
    drawChange(change, places, reach, random);
    scale += Math.abs(row.estimate(change)) / samples;
  }
  const tries = Math.min(mostTries, triesPerOrder * places);
  for (let attempt = 0; attempt < tries; attempt++) {
    drawChange(change, places, reach, random);
    const added = row.estimate(change);
    const temperature = scale * hot * (cold / hot) ** (attempt / tries);
    if (added > random.patience(temperature)) continue;
    row.make(change);
    cost += added;
    if (cost < best.cost) best = { orders: row.orders.slice(), cost };
  }
  return best;
}

/** Draws a change of at most so many places in a row, which has two places or more. */
export function drawChange(change: RowChange, places: number, most: number, random: Random): void {
  const step = 1 + random.below(Math.min(most, places - 1));
  change.first = random.below(places - step);
  change.last = change.first + step;
  const way = random.fraction();
  change.way = way < 0.5 ? "exchange" : way < 0.75 ? "first-to-end" : "last-to-front";
}
