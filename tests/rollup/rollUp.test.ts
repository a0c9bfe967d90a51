import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Demand, type RolledProduct, rollUp, type Supply } from "../../server/rollup/rollUp.ts";

const BOWL = 2_600_000;
const ball: RolledProduct = { productId: 1, blendId: 1, shapeId: 1, pieceMilligrams: 118_000 };
const heart: RolledProduct = { productId: 2, blendId: 1, shapeId: 2, pieceMilligrams: 60_000 };
const oatBall: RolledProduct = { productId: 3, blendId: 2, shapeId: 1, pieceMilligrams: 118_000 };

describe("the roll-up", () => {
  it("serves the earliest date first, from the shelf, then from what dries, and makes the rest", () => {
    const sums = rollUp(
      [ball],
      [
        { productId: 1, shipBy: "2027-03-08", units: 36 },
        { productId: 1, shipBy: "2027-03-05", units: 20 },
        { productId: 1, shipBy: "2027-03-05", units: 10 },
      ],
      [{ productId: 1, shelf: 24, drying: 12, planned: 20 }],
      BOWL,
    );
    // The 5th takes the whole shelf and 6 of the trays; the 8th the other 6, and 30 are to make, 20 of them planned.
    expect(sums.blends[0]?.rows).toMatchObject([
      {
        shipBy: "2027-03-05",
        onOrder: 30,
        fromShelf: 24,
        fromDrying: 6,
        toMake: 0,
        planned: 0,
        unplanned: 0,
      },
      {
        shipBy: "2027-03-08",
        onOrder: 36,
        fromShelf: 0,
        fromDrying: 6,
        toMake: 30,
        planned: 20,
        unplanned: 10,
      },
    ]);
    expect(sums.left).toEqual({ shelf: 0, drying: 0, planned: 0 });
  });

  it("never lets one shape stand in for another, nor one blend for another", () => {
    const sums = rollUp(
      [ball, heart, oatBall],
      [{ productId: 1, shipBy: "2027-03-05", units: 10 }],
      [
        { productId: 2, shelf: 40, drying: 0, planned: 0 },
        { productId: 3, shelf: 0, drying: 40, planned: 7 },
      ],
      BOWL,
    );
    expect(sums.totals).toMatchObject({ onOrder: 10, fromShelf: 0, fromDrying: 0, toMake: 10 });
    expect(sums.left).toEqual({ shelf: 40, drying: 40, planned: 7 });
  });

  it("weighs the mix to make, and counts bowls a blend at a time", () => {
    const sums = rollUp(
      [ball, heart, oatBall],
      [
        { productId: 1, shipBy: "2027-03-05", units: 20 },
        { productId: 2, shipBy: "2027-03-05", units: 4 },
        { productId: 3, shipBy: "2027-03-05", units: 1 },
      ],
      [],
      BOWL,
    );
    // 20 x 118 g + 4 x 60 g = 2600 g: one bowl to the gram; one oat ball takes a bowl of its own.
    expect(sums.blends.map(({ milligrams, bowls }) => [milligrams, bowls])).toEqual([
      [2_600_000, 1],
      [118_000, 1],
    ]);
    expect(sums.bowls).toBe(2);
    const onePieceMore = rollUp([heart], [{ productId: 2, shipBy: "2027-03-05", units: 44 }], [], BOWL);
    expect(onePieceMore.bowls).toBe(2);
  });

  it("has nothing to say of an empty workshop", () => {
    const sums = rollUp([], [], [], BOWL);
    expect([sums.blends, sums.shapes, sums.totals.onOrder, sums.bowls]).toEqual([[], [], 0, 0]);
  });
});

const products = [ball, heart, oatBall];
const dates = ["2027-03-05", "2027-03-06", "2027-03-08", "2027-03-12"];
const someUnits = fc.integer({ min: 0, max: 40 });
const anyDemand: fc.Arbitrary<Demand> = fc.record({
  productId: fc.constantFrom(1, 2, 3),
  shipBy: fc.constantFrom(...dates),
  units: fc.integer({ min: 1, max: 40 }),
});
const anyState = fc.record({
  demands: fc.array(anyDemand, { maxLength: 12 }),
  supplies: fc.subarray([1, 2, 3]).chain((ids) =>
    fc.tuple(
      ...ids.map((productId) =>
        fc.record({
          productId: fc.constant(productId),
          shelf: someUnits,
          drying: someUnits,
          planned: someUnits,
        }),
      ),
    ),
  ),
});

describe("in every state", () => {
  it("each line adds up, and so do the sums of blends, of shapes and of everything", () => {
    fc.assert(
      fc.property(anyState, ({ demands, supplies }) => {
        const sums = rollUp(products, demands, supplies, BOWL);
        const rows = sums.blends.flatMap((blend) => blend.rows);
        for (const line of [...rows, sums.totals, ...sums.shapes.map((shape) => shape.totals)]) {
          expect(line.onOrder).toBe(line.fromShelf + line.fromDrying + line.toMake);
          expect(line.toMake).toBe(line.planned + line.unplanned);
        }
        for (const parts of [sums.blends, sums.shapes]) {
          expect(parts.reduce((sum, { totals }) => sum + totals.toMake, 0)).toBe(sums.totals.toMake);
          expect(parts.reduce((sum, { milligrams }) => sum + milligrams, 0)).toBe(sums.milligrams);
        }
        const there = supplies.reduce((sum, { shelf, drying, planned }) => sum + shelf + drying + planned, 0);
        const { fromShelf, fromDrying, planned } = sums.totals;
        const { left } = sums;
        expect(there).toBe(fromShelf + fromDrying + planned + left.shelf + left.drying + left.planned);
      }),
      { numRuns: 500 },
    );
  });

  it("agrees with handing out single pieces one by one", () => {
    fc.assert(
      fc.property(anyState, ({ demands, supplies }) => {
        const sums = rollUp(products, demands, supplies, BOWL);
        const recounted = handOut(demands, supplies);
        const rows = sums.blends.flatMap((blend) => blend.rows);
        const told = rows.map((row) => [
          `${row.productId} ${row.shipBy}`,
          [row.fromShelf, row.fromDrying, row.planned, row.unplanned],
        ]);
        expect(Object.fromEntries(told)).toEqual(recounted);
      }),
      { numRuns: 500 },
    );
  });
});

/** Piece by piece: every wanted piece in the order of its date takes the best piece that is left of its product. */
function handOut(demands: readonly Demand[], supplies: readonly Supply[]): Record<string, number[]> {
  const pile = supplies.flatMap(({ productId, shelf, drying, planned }) => [
    ...Array.from({ length: shelf }, () => ({ productId, stage: 0 })),
    ...Array.from({ length: drying }, () => ({ productId, stage: 1 })),
    ...Array.from({ length: planned }, () => ({ productId, stage: 2 })),
  ]);
  const wanted = demands
    .flatMap(({ productId, shipBy, units }) => Array.from({ length: units }, () => ({ productId, shipBy })))
    .sort((one, other) => one.shipBy.localeCompare(other.shipBy));
  const counted: Record<string, number[]> = {};
  for (const { productId, shipBy } of wanted) {
    const found = pile.findIndex((piece) => piece.productId === productId);
    const stage = found < 0 ? 3 : (pile.splice(found, 1)[0]?.stage ?? 3);
    const key = `${productId} ${shipBy}`;
    const line = counted[key] ?? [0, 0, 0, 0];
    line[stage] = (line[stage] ?? 0) + 1;
    counted[key] = line;
  }
  return counted;
}
