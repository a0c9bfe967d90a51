/*
 * Which boxes an order goes into: the fewest, and of these the lightest together when they are empty. A box is full when
 * the filled fractions come to one: of a shape of which 24 fill a box, a piece fills a twenty-fourth of it, whatever else
 * lies beside it. That shapes share a box so is an assumption: gaps between unlike shapes are not known. Everything here
 * is pure.
 */

/** A size of box, and how many pieces of each shape fill it. */
export interface BoxSize {
  readonly id: number;
  readonly tareMilligrams: number;
  /** By shape; a shape that is not named does not go into it. */
  readonly holds: ReadonlyMap<number, number>;
}

/** Pieces by shape. */
type Pieces = ReadonlyMap<number, number>;

export interface SuggestedBox {
  readonly sizeId: number;
  readonly pieces: Pieces;
}

interface BoxSuggestion {
  readonly boxes: readonly SuggestedBox[];
  /** False where there were too many ways to try them all: then there may be a better one. */
  readonly isBest: boolean;
  /** Pieces of shapes that go into no box. */
  readonly unboxed: Pieces;
}

/** Ways of filling looked at for one order: some hundredths of a second. Common orders need a few hundred. */
const MOST_STEPS = 300_000;
/** Sets of boxes of one number that are compared at most. */
const MOST_SETS = 20_000;

export function suggestBoxes(pieces: Pieces, sizes: readonly BoxSize[]): BoxSuggestion {
  const wanted = [...pieces].filter(([, units]) => units > 0);
  const boxed = wanted.filter(([shape]) => sizes.some((size) => holds(size, shape) > 0));
  const unboxed = new Map(wanted.filter((entry) => !boxed.includes(entry)));
  if (boxed.length === 0) return { boxes: [], isBest: true, unboxed };
  const shapes = boxed.map(([shape]) => shape);
  const wants = boxed.map(([, units]) => units);
  const useful = sizes
    .filter((size) => shapes.some((shape) => holds(size, shape) > 0))
    .toSorted((one, other) => other.tareMilligrams - one.tareMilligrams || one.id - other.id)
    .map((size) => roomIn(size, shapes));
  const quick = oneAfterAnother(wants, useful);
  const best = fewest(wants, useful, quick.length);
  const boxes = (best ?? quick).map(({ room, units }) => ({
    sizeId: room.id,
    pieces: new Map(units.flatMap((count, at) => (count > 0 ? [[shapes[at] ?? 0, count] as const] : []))),
  }));
  return { boxes, isBest: best !== null, unboxed };
}

/** A size of box for the shapes of one order, in whole shares, so that fractions are added without rounding. */
interface Room {
  readonly id: number;
  readonly tareMilligrams: number;
  readonly shares: number;
  /** What a piece of each shape takes up; null: it does not go in. */
  readonly each: readonly (number | null)[];
  readonly holds: readonly number[];
}

interface Filled {
  readonly room: Room;
  /** By the place of the shape. */
  readonly units: readonly number[];
}

function holds(size: BoxSize, shape: number): number {
  return size.holds.get(shape) ?? 0;
}

/** Beyond this the shares are no whole numbers any more; a box is then taken as a bit larger, by less than a grain. */
const MOST_SHARES = 2 ** 45;

function roomIn(size: BoxSize, shapes: readonly number[]): Room {
  const held = shapes.map((shape) => holds(size, shape));
  const common = held.filter((units) => units > 0).reduce(leastCommonMultiple, 1);
  const shares = Math.min(common, MOST_SHARES);
  const each = held.map((units) => (units > 0 ? Math.floor(shares / units) : null));
  return { id: size.id, tareMilligrams: size.tareMilligrams, shares, each, holds: held };
}

function leastCommonMultiple(one: number, other: number): number {
  let [a, b] = [one, other];
  while (b > 0) [a, b] = [b, a % b];
  return (one / a) * other;
}

/** How many pieces of a shape still go into what is free of a room. */
function fitting(room: Room, shape: number, freeShares: number): number {
  const each = room.each[shape] ?? null;
  return each === null ? 0 : Math.floor(freeShares / each);
}

/** Always the box that takes most of what is left, filled in the order of the shapes; the last one as light as may be. */
function oneAfterAnother(wants: readonly number[], rooms: readonly Room[]): readonly Filled[] {
  const boxes: Filled[] = [];
  let left = wants;
  while (left.some((units) => units > 0)) {
    const filled = rooms.map((room) => fill(room, left));
    const most = filled.toSorted((one, other) => sum(other.units) - sum(one.units))[0];
    if (!most) throw new Error("Every shape here goes into some box");
    boxes.push(filled.findLast(({ units }) => sum(units) === sum(left)) ?? most);
    left = left.map((units, at) => units - (most.units[at] ?? 0));
  }
  return boxes;
}

function fill(room: Room, left: readonly number[]): Filled {
  let free = room.shares;
  const units = left.map((wanted, shape) => {
    const count = Math.min(wanted, fitting(room, shape, free));
    free -= count * (room.each[shape] ?? 0);
    return count;
  });
  return { room, units };
}

function sum(units: readonly number[]): number {
  return units.reduce((all, count) => all + count, 0);
}

/**
 * Tries every set of one box, of two and so on, the lightest first, until one takes all.
 *
 * @param most so many boxes are known to be enough
 * @returns null where that would be too much work
 */
function fewest(wants: readonly number[], rooms: readonly Room[], most: number): readonly Filled[] | null {
  const steps = { left: MOST_STEPS };
  const reached = new Map<string, readonly Reached[]>([["", [{ units: wants.map(() => 0), before: null }]]]);
  for (let count = fewestThinkable(wants, rooms); count <= most; count += 1) {
    const sets = setsOf(rooms, count);
    if (sets === null) return null;
    for (const set of sets) {
      const all = reach(set, wants, reached, steps);
      if (all === null) return null;
      const whole = all.find(({ units }) => units.every((packed, at) => packed === wants[at]));
      if (whole) return boxesOf(whole);
    }
  }
  return null;
}

/** Each piece fills at least its share of the box that holds most of its shape. */
function fewestThinkable(wants: readonly number[], rooms: readonly Room[]): number {
  const filled = wants.map(
    (units, shape) => units / Math.max(...rooms.map((room) => room.holds[shape] ?? 0)),
  );
  // A little less, so that rounding never asks for a box too many.
  return Math.max(1, Math.ceil(sum(filled) - 1e-9));
}

/** All sets of so many boxes, the lightest first; null where there are too many. */
function setsOf(rooms: readonly Room[], count: number): readonly (readonly Room[])[] | null {
  let sets: (readonly Room[])[] = [[]];
  for (let place = 0; place < count; place += 1) {
    sets = sets.flatMap((set) => {
      const from = set.length === 0 ? 0 : rooms.indexOf(set[set.length - 1] as Room);
      return rooms.slice(from).map((room) => [...set, room]);
    });
    if (sets.length > MOST_SETS) return null;
  }
  const tare = (set: readonly Room[]) => set.reduce((all, room) => all + room.tareMilligrams, 0);
  return sets.toSorted((one, other) => tare(one) - tare(other));
}

/** What some boxes can hold together, and what the last of them holds of it. */
interface Reached {
  readonly units: readonly number[];
  readonly before: { readonly reached: Reached; readonly box: Filled } | null;
}

/** All that a set can hold, but for what holds less of everything than another; sets begin alike and are kept. */
function reach(
  set: readonly Room[],
  wants: readonly number[],
  known: Map<string, readonly Reached[]>,
  steps: { left: number },
): readonly Reached[] | null {
  const key = set.map(({ id }) => id).join(" ");
  const kept = known.get(key);
  const room = set[set.length - 1];
  if (kept || !room) return kept ?? null;
  const before = reach(set.slice(0, -1), wants, known, steps);
  if (before === null) return null;
  const best = new Map<string, Reached>();
  for (const from of before) {
    const left = wants.map((units, at) => units - (from.units[at] ?? 0));
    for (const units of fullest(room, left)) {
      steps.left -= 1;
      if (steps.left < 0) return null;
      const now = from.units.map((packed, at) => packed + (units[at] ?? 0));
      const but = now.slice(0, -1).join(" ");
      const rival = best.get(but);
      if (!rival || (rival.units.at(-1) ?? 0) < (now.at(-1) ?? 0))
        best.set(but, { units: now, before: { reached: from, box: { room, units } } });
    }
  }
  const all = [...best.values()];
  known.set(key, all);
  return all;
}

/** Every way to fill a box of what is left: any number of all shapes but the last, and of that as many as still go in. */
function fullest(room: Room, left: readonly number[]): readonly (readonly number[])[] {
  let ways: { readonly units: readonly number[]; readonly free: number }[] = [
    { units: [], free: room.shares },
  ];
  for (const [shape, wanted] of left.entries()) {
    const isLast = shape === left.length - 1;
    ways = ways.flatMap(({ units, free }) => {
      const most = Math.min(wanted, fitting(room, shape, free));
      const counts = isLast ? [most] : Array.from({ length: most + 1 }, (_, count) => count);
      return counts.map((count) => ({
        units: [...units, count],
        free: free - count * (room.each[shape] ?? 0),
      }));
    });
  }
  return ways.map(({ units }) => units);
}

function boxesOf(whole: Reached): readonly Filled[] {
  const boxes: Filled[] = [];
  for (let at = whole; at.before !== null; at = at.before.reached) boxes.unshift(at.before.box);
  return boxes.filter(({ units }) => sum(units) > 0);
}
