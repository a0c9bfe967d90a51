/*
 * The order in which a round is driven. Places are numbered as in the table of minutes: 0 is the workshop, where the round
 * starts and ends, the others are stops. Pure, and the same answer for the same table.
 */

/** Minutes from each place to each other; whole, not below nothing. */
export type Minutes = readonly (readonly number[])[];

export interface Round {
  /** The stops in the order in which they are driven to. */
  readonly stops: readonly number[];
  /** Driving from the workshop back to it, without what is spent at the doors. */
  readonly minutes: number;
  /** Whether no order is shorter; otherwise it is a good one. */
  readonly exact: boolean;
}

/** Stops up to which every order is weighed against every other; the work doubles with each. */
export const MOST_EXACT_STOPS = 10;

/** The shortest round up to ten stops, beyond that a good one. */
export function shortestRound(minutes: Minutes): Round {
  return minutes.length - 1 <= MOST_EXACT_STOPS ? exactRound(minutes) : goodRound(minutes);
}

/**
 * The shortest round of all, by dynamic programming over sets of stops (M. Held and R. M. Karp, "A Dynamic Programming
 * Approach to Sequencing Problems", J. SIAM 10, 1962; R. Bellman, J. ACM 9, 1962): the best way through a set that ends at
 * a stop is the best way through the set without it, and on. Work and memory grow as n² 2ⁿ.
 */
export function exactRound(minutes: Minutes): Round {
  const count = minutes.length - 1;
  if (count <= 0) return { stops: [], minutes: 0, exact: true };
  const sets = 1 << count;
  const best = new Float64Array(sets * count).fill(Number.POSITIVE_INFINITY);
  const before = new Int8Array(sets * count).fill(-1);
  for (let set = 1; set < sets; set += 1)
    for (let last = 0; last < count; last += 1)
      if (set & (1 << last)) extend({ minutes, count, best, before }, set, last);
  let end = 0;
  const whole = (last: number) => (best[(sets - 1) * count + last] ?? 0) + between(minutes, last + 1, 0);
  for (let last = 1; last < count; last += 1) if (whole(last) < whole(end)) end = last;
  return { stops: traced(before, count, end), minutes: whole(end), exact: true };
}

interface Table {
  readonly minutes: Minutes;
  readonly count: number;
  /** By set and last stop: minutes of the best way through the set that ends there. */
  readonly best: Float64Array;
  /** The stop before the last on that way; −1: the workshop. */
  readonly before: Int8Array;
}

function extend({ minutes, count, best, before }: Table, set: number, last: number): void {
  const rest = set & ~(1 << last);
  const here = set * count + last;
  if (rest === 0) {
    best[here] = between(minutes, 0, last + 1);
    return;
  }
  for (let previous = 0; previous < count; previous += 1) {
    if (!(rest & (1 << previous))) continue;
    const through = (best[rest * count + previous] ?? 0) + between(minutes, previous + 1, last + 1);
    if (through >= (best[here] ?? 0)) continue;
    best[here] = through;
    before[here] = previous;
  }
}

function traced(before: Int8Array, count: number, end: number): readonly number[] {
  const stops: number[] = [];
  let [set, last] = [(1 << count) - 1, end];
  while (last >= 0) {
    stops.unshift(last + 1);
    const previous = before[set * count + last] ?? -1;
    set &= ~(1 << last);
    last = previous;
  }
  return stops;
}

/**
 * A good round: each stop in turn where it costs least (cheapest insertion), then parts of it turned round (2-opt; G. A.
 * Croes, Operations Research 6, 1958) and up to three stops in a row moved elsewhere (I. Or, dissertation, Northwestern
 * University, 1976), as long as that makes it shorter.
 */
export function goodRound(minutes: Minutes): Round {
  let stops = inserted(minutes);
  let length = roundMinutes(minutes, stops);
  for (let better = shorter(minutes, stops, length); better; better = shorter(minutes, stops, length)) {
    stops = better;
    length = roundMinutes(minutes, stops);
  }
  return { stops, minutes: length, exact: false };
}

/** Driving minutes of a round through the stops in this order. */
export function roundMinutes(minutes: Minutes, stops: readonly number[]): number {
  let [at, sum] = [0, 0];
  for (const stop of stops) {
    sum += between(minutes, at, stop);
    at = stop;
  }
  return sum + between(minutes, at, 0);
}

function inserted(minutes: Minutes): readonly number[] {
  let stops: readonly number[] = [];
  const left = new Set(Array.from({ length: minutes.length - 1 }, (_, place) => place + 1));
  while (left.size > 0) {
    let best:
      | { readonly stop: number; readonly stops: readonly number[]; readonly minutes: number }
      | undefined;
    for (const stop of left)
      for (let place = 0; place <= stops.length; place += 1) {
        const longer = stops.toSpliced(place, 0, stop);
        const cost = roundMinutes(minutes, longer);
        if (!best || cost < best.minutes) best = { stop, stops: longer, minutes: cost };
      }
    if (!best) throw new Error("There is a stop left to put somewhere");
    left.delete(best.stop);
    stops = best.stops;
  }
  return stops;
}

/** The first change that makes the round shorter; null where none does. */
function shorter(minutes: Minutes, stops: readonly number[], length: number): readonly number[] | null {
  for (const changed of changes(stops)) if (roundMinutes(minutes, changed) < length) return changed;
  return null;
}

function* changes(stops: readonly number[]): Generator<readonly number[]> {
  for (let from = 0; from < stops.length; from += 1)
    for (let to = from + 2; to <= stops.length; to += 1)
      yield [...stops.slice(0, from), ...stops.slice(from, to).toReversed(), ...stops.slice(to)];
  for (const size of [1, 2, 3])
    for (let from = 0; from + size <= stops.length; from += 1) {
      const part = stops.slice(from, from + size);
      const rest = stops.toSpliced(from, size);
      for (let place = 0; place <= rest.length; place += 1)
        if (place !== from) yield rest.toSpliced(place, 0, ...part);
    }
}

function between(minutes: Minutes, from: number, to: number): number {
  const drive = minutes[from]?.[to];
  if (drive === undefined) throw new Error(`There are no minutes from place ${from} to place ${to}`);
  return drive;
}
