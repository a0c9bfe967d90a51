import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { explodeMixes, type MixPart, packWith, weighOut } from "../../server/supplies/explosion.ts";
import { firstShortage } from "../../server/supplies/shortage.ts";

const day = (number: number) => `2027-03-${String(number).padStart(2, "0")}`;

/** Parts that add up to a kilogram; an ingredient may be stirred in twice. */
const someParts: fc.Arbitrary<readonly MixPart[]> = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 1000 })), {
    minLength: 1,
    maxLength: 7,
  })
  .map((weights) => {
    const total = weights.reduce((sum, [, weight]) => sum + weight, 0);
    const parts = weights.map(([supplyId, weight]) => ({
      supplyId,
      milligramsPerKilogram: Math.floor((weight * 1_000_000) / total),
    }));
    const missing = 1_000_000 - parts.reduce((sum, part) => sum + part.milligramsPerKilogram, 0);
    return parts.map((part, place) =>
      place === 0 ? { ...part, milligramsPerKilogram: part.milligramsPerKilogram + missing } : part,
    );
  });

describe("what mixes and packing need", () => {
  it("is weighed out to the milligram, and adds up to the mix", () => {
    fc.assert(
      fc.property(someParts, fc.integer({ min: 1, max: 50_000_000 }), (parts, mix) => {
        const needs = weighOut(parts, mix);
        expect(needs.reduce((sum, { amount }) => sum + amount, 0)).toBe(mix);
        for (const { supplyId, amount } of needs) {
          const its = parts.filter((part) => part.supplyId === supplyId);
          const exact = (its.reduce((sum, part) => sum + part.milligramsPerKilogram, 0) * mix) / 1_000_000;
          expect(Math.abs(amount - exact)).toBeLessThanOrEqual(its.length);
        }
      }),
    );
  });

  it("is what a recount comes to, run by run and ingredient by ingredient", () => {
    const someMixes = fc.array(
      fc.record({
        on: fc.integer({ min: 1, max: 9 }).map(day),
        mixMilligrams: fc.integer({ min: 1, max: 9_000_000 }),
        parts: someParts,
      }),
      { maxLength: 8 },
    );
    fc.assert(
      fc.property(someMixes, (mixes) => {
        const needs = explodeMixes(mixes.map((mix, place) => ({ ...mix, what: place })));
        for (const [place, mix] of mixes.entries()) {
          const its = needs.filter(({ what }) => what === place);
          expect(its.every(({ on }) => on === mix.on)).toBe(true);
          expect(its.reduce((sum, { amount }) => sum + amount, 0)).toBe(mix.mixMilligrams);
          expect(new Set(its.map(({ supplyId }) => supplyId)).size).toBe(its.length);
          expect(
            its.map(({ supplyId }) => supplyId).every((id) => mix.parts.some((part) => part.supplyId === id)),
          ).toBe(true);
        }
      }),
    );
  });

  it("takes a box for every begun dozen, counted one piece at a time", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 200 }),
        fc.integer({ min: 1, max: 24 }),
        fc.integer({ min: 1, max: 3 }),
        (pieces, forPieces, amount) => {
          let boxes = 0;
          for (let piece = 0; piece < pieces; piece += 1) if (piece % forPieces === 0) boxes += amount;
          const [need] = packWith([{ supplyId: 1, amount, forPieces }], pieces);
          expect(need?.amount ?? 0).toBe(boxes);
        },
      ),
    );
  });
});

describe("where a supply runs out", () => {
  const books = (amount: number) => ({
    lots: [{ lotId: 1, amount, receivedOn: "2027-01-01", expiresOn: null }],
    ...{ beyond: 0, expected: [] },
  });
  const need = (on: number, amount: number, what: string) => ({ supplyId: 1, on: day(on), amount, what });

  it("is the first run that does not get all of it, in the order of the runs of its day", () => {
    const needs = [need(2, 4, "oat"), need(3, 4, "cedar"), need(3, 4, "tea"), need(5, 9, "oat again")];
    expect(firstShortage(needs, books(10), day(1))).toEqual({ on: day(3), what: "tea", missing: 11 });
    expect(firstShortage(needs, books(7), day(1))).toMatchObject({ on: day(3), what: "cedar" });
    expect(firstShortage(needs, books(21), day(1))).toBeNull();
  });

  it("is told as any walk through the runs, one by one, would tell it", () => {
    const someNeeds = fc
      .array(fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 9 })), { maxLength: 8 })
      .map((all) =>
        all
          .toSorted(([one], [other]) => one - other)
          .map(([on, amount], place) => need(on, amount, String(place))),
      );
    fc.assert(
      fc.property(someNeeds, fc.integer({ min: 1, max: 30 }), (needs, there) => {
        let left = there;
        const walked = needs.find(({ amount }) => {
          left -= amount;
          return left < 0;
        });
        const all = needs.reduce((sum, { amount }) => sum + amount, 0);
        const found = firstShortage(needs, books(there), day(1));
        expect(found?.what).toBe(walked?.what);
        expect(found?.missing ?? 0).toBe(Math.max(0, all - there));
      }),
    );
  });
});
