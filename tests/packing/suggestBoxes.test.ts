import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type BoxSize, suggestBoxes } from "../../server/packing/suggestBoxes.ts";

const BALL = 1;
const PUCK = 2;
const HEART = 3;

/** 24 balls or 48 pucks. */
const large = size(1, 300, { [BALL]: 24, [PUCK]: 48 });
/** 10 balls or 20 pucks. */
const small = size(2, 120, { [BALL]: 10, [PUCK]: 20 });

describe("the boxes of an order", () => {
  it("are as few as will do, and then as light as will do", () => {
    // 24 fill the large one; 25 need two, of which the second may be small; 10 fit into the small one alone.
    expect(boxesFor({ [BALL]: 24 })).toEqual([[1, { [BALL]: 24 }]]);
    expect(boxesFor({ [BALL]: 10 })).toEqual([[2, { [BALL]: 10 }]]);
    expect(boxesFor({ [BALL]: 25 }).map(([id]) => id)).toEqual([1, 2]);
  });

  it("are shared by shapes as far as their filled fractions come to one", () => {
    // 12/24 and 24/48 are one whole large box; a piece more begins another.
    expect(boxesFor({ [BALL]: 12, [PUCK]: 24 })).toEqual([[1, { [BALL]: 12, [PUCK]: 24 }]]);
    expect(boxesFor({ [BALL]: 12, [PUCK]: 25 })).toHaveLength(2);
  });

  it("leave out shapes that go into no box, and say so", () => {
    const suggestion = suggestBoxes(new Map([...pieces({ [BALL]: 4, [HEART]: 6 })]), [large, small]);
    expect(suggestion.boxes).toHaveLength(1);
    expect([...suggestion.unboxed]).toEqual([[HEART, 6]]);
    expect(suggestBoxes(new Map(), [large])).toEqual({ boxes: [], isBest: true, unboxed: new Map() });
  });

  it("are found for a large order at once, all pieces in, though not all ways are tried", () => {
    const many = Array.from({ length: 6 }, (_, place) =>
      size(place + 1, 100 + place * 37, {
        [BALL]: 7 + place * 3,
        [PUCK]: 11 + place * 5,
        [HEART]: 5 + place * 2,
      }),
    );
    const wanted = pieces({ [BALL]: 500, [PUCK]: 700, [HEART]: 300 });
    const { boxes, isBest } = suggestBoxes(wanted, many);
    expect(isBest).toBe(false);
    expectAllIn(wanted, boxes, many);
    // Lighter sizes come first: what is left at the end goes into none of those before the one that is suggested.
    const last = boxes.at(-1);
    const inside = [...(last?.pieces ?? [])];
    const lighter = many.slice(
      0,
      many.findIndex(({ id }) => id === last?.sizeId),
    );
    const [shapes, units] = [inside.map(([shape]) => shape), inside.map(([, count]) => count)];
    expect(lighter.filter(({ holds }) => fits(units, shapes, holds))).toEqual([]);
  });

  it("are those that trying everything finds", () => {
    fc.assert(
      fc.property(shops, ({ wanted, sizes }) => {
        const { boxes, isBest, unboxed } = suggestBoxes(wanted, sizes);
        const [count, tare] = byTryingAll(without(wanted, unboxed), sizes);
        expect(isBest).toBe(true);
        expect(boxes.length).toBe(count);
        expect(boxes.reduce((sum, { sizeId }) => sum + tareOf(sizes, sizeId), 0)).toBe(tare);
        expectAllIn(without(wanted, unboxed), boxes, sizes);
        for (const shape of unboxed.keys()) expect(sizes.some(({ holds }) => holds.has(shape))).toBe(false);
      }),
      { numRuns: 150 },
    );
  });
});

/** Up to three sizes of box, each for some of up to three shapes, and a few pieces of each. */
const shops = fc
  .record({
    wanted: fc.tuple(...Array.from({ length: 3 }, () => fc.integer({ min: 0, max: 7 }))),
    sizes: fc.array(
      fc.record({
        tare: fc.integer({ min: 1, max: 6 }),
        holds: fc.tuple(...Array.from({ length: 3 }, () => fc.integer({ min: 0, max: 6 }))),
      }),
      { minLength: 1, maxLength: 3 },
    ),
  })
  .map(({ wanted, sizes }) => ({
    wanted: new Map(wanted.map((units, place) => [place + 1, units])),
    sizes: sizes.map(({ tare, holds }, place): BoxSize => {
      const held = holds.flatMap((units, at) => (units > 0 ? [[at + 1, units] as const] : []));
      return { id: place + 1, tareMilligrams: tare, holds: new Map(held) };
    }),
  }));

/** Fewest boxes and their least tare, box by box over every way to fill each, fractions multiplied out. */
function byTryingAll(
  wanted: ReadonlyMap<number, number>,
  sizes: readonly BoxSize[],
): readonly [number, number] {
  const shapes = [...wanted.keys()];
  const known = new Map<string, readonly [number, number]>();
  const best = (left: readonly number[]): readonly [number, number] => {
    if (left.every((units) => units === 0)) return [0, 0];
    const kept = known.get(left.join());
    if (kept) return kept;
    let found: readonly [number, number] = [Number.POSITIVE_INFINITY, 0];
    for (const { tareMilligrams, holds } of sizes)
      for (const part of partsOf(left)) {
        if (part.every((units) => units === 0) || !fits(part, shapes, holds)) continue;
        const [count, tare] = best(left.map((units, at) => units - (part[at] ?? 0)));
        const [boxes, weight] = [count + 1, tare + tareMilligrams];
        if (boxes < found[0] || (boxes === found[0] && weight < found[1])) found = [boxes, weight];
      }
    known.set(left.join(), found);
    return found;
  };
  return best([...wanted.values()]);
}

function partsOf([first, ...rest]: readonly number[]): readonly (readonly number[])[] {
  if (first === undefined) return [[]];
  const others = partsOf(rest);
  return Array.from({ length: first + 1 }, (_, count) => others.map((other) => [count, ...other])).flat();
}

/** a/A + b/B + c/C is at most 1 when aBC + bAC + cAB is at most ABC. */
function fits(
  part: readonly number[],
  shapes: readonly number[],
  holds: ReadonlyMap<number, number>,
): boolean {
  const used = part.flatMap((units, at) =>
    units > 0 ? [[units, holds.get(shapes[at] ?? 0) ?? 0] as const] : [],
  );
  const whole = used.reduce((product, [, held]) => product * held, 1);
  if (whole === 0) return false;
  return used.reduce((sum, [units, held]) => sum + (units * whole) / held, 0) <= whole;
}

function expectAllIn(
  wanted: ReadonlyMap<number, number>,
  boxes: ReturnType<typeof suggestBoxes>["boxes"],
  sizes: readonly BoxSize[],
) {
  for (const [shape, units] of wanted)
    expect(boxes.reduce((sum, box) => sum + (box.pieces.get(shape) ?? 0), 0)).toBe(units);
  for (const { sizeId, pieces: inside } of boxes) {
    const holds = sizes.find(({ id }) => id === sizeId)?.holds ?? new Map();
    expect(fits([...inside.values()], [...inside.keys()], holds)).toBe(true);
  }
}

function without(wanted: ReadonlyMap<number, number>, unboxed: ReadonlyMap<number, number>) {
  return new Map([...wanted].filter(([shape]) => !unboxed.has(shape)));
}

function tareOf(sizes: readonly BoxSize[], sizeId: number): number {
  return sizes.find(({ id }) => id === sizeId)?.tareMilligrams ?? Number.NaN;
}

function boxesFor(wanted: Readonly<Record<number, number>>) {
  const { boxes } = suggestBoxes(pieces(wanted), [large, small]);
  return boxes.map(({ sizeId, pieces: inside }) => [sizeId, Object.fromEntries(inside)]);
}

function pieces(of: Readonly<Record<number, number>>): ReadonlyMap<number, number> {
  return new Map(Object.entries(of).map(([shape, units]) => [Number(shape), units]));
}

function size(id: number, grams: number, holds: Readonly<Record<number, number>>): BoxSize {
  return { id, tareMilligrams: grams * 1000, holds: pieces(holds) };
}
