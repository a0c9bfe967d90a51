import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Amount, AmountUnit, MassUnit } from "../../server/recipes/amounts.ts";
import { KILOGRAM, perKilogram, type WrittenPart } from "../../server/recipes/perKilogram.ts";

function part(units: number, unit: AmountUnit, densityGramsPerLitre: number | null = null): WrittenPart {
  return { amount: { thousandths: Math.round(units * 1000), unit }, densityGramsPerLitre };
}

const mass = (units: number, unit: MassUnit): Amount<MassUnit> => ({
  thousandths: Math.round(units * 1000),
  unit,
});
const ONE_KILOGRAM = mass(1, "kg");

describe("parts written for a kilogram", () => {
  it("are what they are", () => {
    const parts = [part(620, "g"), part(310, "g"), part(70, "g")];
    expect(perKilogram(parts, ONE_KILOGRAM)).toEqual({ ok: true, value: [620_000, 310_000, 70_000] });
  });

  it("say what is missing, or what is too much, to the milligram", () => {
    const short = perKilogram([part(620, "g"), part(310, "g"), part(58.25, "g")], ONE_KILOGRAM);
    expect(short).toMatchObject({ refusal: { kind: "does-not-add-up", missingMilligrams: 11_750 } });
    const over = perKilogram([part(620, "g"), part(310, "g"), part(70.001, "g")], ONE_KILOGRAM);
    expect(over).toMatchObject({ refusal: { kind: "does-not-add-up", missingMilligrams: -1 } });
  });

  it("may stand in every unit beside each other", () => {
    // 620 g + 10 oz (283.49523125 g) + 20 ml at 0.915 (18.3 g) + 5 % (50 g) + 28.205 g = 1000.000 g to the milligram.
    const parts = [
      part(620, "g"),
      part(10, "oz"),
      part(20, "ml", 915),
      part(5, "percent"),
      part(28.205, "g"),
    ];
    expect(perKilogram(parts, ONE_KILOGRAM)).toEqual({
      ok: true,
      value: [620_000, 283_495, 18_300, 50_000, 28_205],
    });
  });
});

describe("parts written for another weight", () => {
  it("are scaled to the kilogram", () => {
    // 2 lb of soda and 1 lb of acid in 3 lb: two thirds and one third; the odd milligram goes to the larger remainder.
    expect(perKilogram([part(2, "lb"), part(16, "oz")], mass(48, "oz"))).toEqual({
      ok: true,
      value: [666_667, 333_333],
    });
    expect(perKilogram([part(2, "lb"), part(16, "oz")], mass(50, "oz"))).toMatchObject({
      refusal: { kind: "does-not-add-up", missingMilligrams: 40_000 },
    });
  });
});

describe("parts that are the whole by themselves", () => {
  it("share the kilogram by weight", () => {
    expect(perKilogram([part(4, "lb"), part(2, "lb"), part(32, "oz")], null)).toEqual({
      ok: true,
      value: [500_000, 250_000, 250_000],
    });
  });

  it("leave room for what stands in per cent of the whole", () => {
    // 3 and 1 parts share the 98.5 % that the scent leaves.
    expect(perKilogram([part(3, "kg"), part(1, "kg"), part(1.5, "percent")], null)).toEqual({
      ok: true,
      value: [738_750, 246_250, 15_000],
    });
    expect(perKilogram([part(1, "kg"), part(100, "percent")], null)).toMatchObject({
      refusal: { kind: "no-room-for-weights" },
    });
  });

  it("in per cent alone must make a hundred", () => {
    expect(perKilogram([part(66.5, "percent"), part(33.5, "percent")], null)).toMatchObject({
      value: [665_000, 335_000],
    });
    expect(perKilogram([part(66.5, "percent"), part(33, "percent")], null)).toMatchObject({
      refusal: { kind: "does-not-add-up", missingMilligrams: 5000 },
    });
  });
});

describe("what makes no recipe", () => {
  it("is refused with the part that is wrong", () => {
    expect(perKilogram([], null)).toMatchObject({ refusal: { kind: "no-parts" } });
    expect(perKilogram([part(600, "g"), part(1, "tsp")], null)).toMatchObject({
      refusal: { kind: "density-unknown", place: 1 },
    });
    // 0.001 g in 10 kg is a tenth of a milligram in one.
    expect(perKilogram([part(10, "kg"), part(0.001, "g")], null)).toMatchObject({
      refusal: { kind: "too-little", place: 1 },
    });
  });
});

it("whatever is weighed together adds up to a kilogram, each part within a milligram of its exact share", () => {
  const written = fc.array(
    fc.record({
      thousandths: fc.integer({ min: 1, max: 90_000_000 }),
      unit: fc.constantFrom<AmountUnit>("g", "kg", "oz", "lb", "ml", "fl-oz-us", "fl-oz-imperial", "tsp"),
      density: fc.integer({ min: 300, max: 3000 }),
    }),
    { minLength: 1, maxLength: 14 },
  );
  fc.assert(
    fc.property(written, (parts) => {
      const composed = perKilogram(
        parts.map(({ thousandths, unit, density }) => ({
          amount: { thousandths, unit },
          densityGramsPerLitre: density,
        })),
        null,
      );
      if (!composed.ok) return composed.refusal.kind === "too-little";
      const grams = parts.map(gramsInFloats);
      const whole = grams.reduce((sum, one) => sum + one, 0);
      expect(composed.value.reduce((sum, one) => sum + one, 0)).toBe(KILOGRAM);
      for (const [place, value] of composed.value.entries())
        expect(Math.abs(value - (KILOGRAM * (grams[place] ?? 0)) / whole)).toBeLessThan(1.001);
      return true;
    }),
  );
});

/** Reckoned once more in another way: grams in floating point, by the factors of NIST Handbook 44, Appendix C. */
function gramsInFloats(part: {
  readonly thousandths: number;
  readonly unit: AmountUnit;
  readonly density: number;
}): number {
  const byDensity = part.density / 1000;
  const factor: Readonly<Record<AmountUnit, number>> = {
    g: 1,
    kg: 1000,
    oz: 28.349523125,
    lb: 453.59237,
    ml: byDensity,
    "fl-oz-us": 29.5735295625 * byDensity,
    "fl-oz-imperial": 28.4130625 * byDensity,
    tsp: 4.92892159375 * byDensity,
    percent: Number.NaN,
  };
  return (part.thousandths / 1000) * factor[part.unit];
}
