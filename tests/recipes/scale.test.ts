import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { KILOGRAM } from "../../server/recipes/perKilogram.ts";
import { scaleTo } from "../../server/recipes/scale.ts";

const sum = (parts: readonly number[]) => parts.reduce((total, part) => total + part, 0);

describe("a recipe scaled to a bowl", () => {
  it("is the recipe times the bowl; worked by hand", () => {
    // 6.2 kg of 620, 310, 55 and 15 g a kilogram.
    expect(scaleTo([620_000, 310_000, 55_000, 15_000], 6_200_000, 1000)).toEqual({
      wholeMilligrams: 6_200_000,
      partMilligrams: [3_844_000, 1_922_000, 341_000, 93_000],
    });
  });

  it("gives the steps that rounding leaves to the largest remainders", () => {
    // A kilogram in thirds on a scale of whole grams: one of them gets the odd gram.
    expect(scaleTo([333_334, 333_333, 333_333], 1_000_000, 1000).partMilligrams).toEqual([
      334_000, 333_000, 333_000,
    ]);
    // 2.5 kg on a scale of 5 g: 3.75 g of colour would be a step, 1.25 g none.
    expect(scaleTo([998_000, 1500, 500], 2_500_000, 5000).partMilligrams).toEqual([2_495_000, 5000, 0]);
  });

  it("rounds the whole to what the scale can show", () => {
    expect(scaleTo([500_000, 500_000], 1_000_400, 1000).wholeMilligrams).toBe(1_000_000);
    expect(scaleTo([500_000, 500_000], 1_000_500, 1000).wholeMilligrams).toBe(1_001_000);
  });
});

/** Parts that add up to a kilogram, none of them nothing. */
const recipes = fc
  .array(fc.integer({ min: 1, max: 100_000 }), { minLength: 1, maxLength: 14 })
  .map((weights) => {
    const rest = KILOGRAM - weights.length;
    const whole = sum(weights);
    const parts = weights.map((weight) => 1 + Math.floor((rest * weight) / whole));
    return [(parts[0] ?? 0) + KILOGRAM - sum(parts), ...parts.slice(1)];
  });
const steps = fc.constantFrom(10, 100, 500, 1000, 2000, 5000);

describe("whatever the recipe, the bowl and the scale", () => {
  it("the parts add up to the whole, and the whole is the bowl to half a step", () => {
    fc.assert(
      fc.property(recipes, fc.integer({ min: 10_000, max: 30_000_000 }), steps, (parts, bowl, step) => {
        const scaled = scaleTo(parts, bowl, step);
        expect(sum(scaled.partMilligrams)).toBe(scaled.wholeMilligrams);
        expect(Math.abs(scaled.wholeMilligrams - bowl)).toBeLessThanOrEqual(step / 2);
        for (const part of scaled.partMilligrams) expect(part % step).toBe(0);
      }),
    );
  });

  it("scales back: each part is its share of the kilogram to less than a step", () => {
    fc.assert(
      fc.property(recipes, fc.integer({ min: 10_000, max: 30_000_000 }), steps, (parts, bowl, step) => {
        const { wholeMilligrams, partMilligrams } = scaleTo(parts, bowl, step);
        if (wholeMilligrams === 0) return;
        for (const [place, part] of parts.entries()) {
          const back = ((partMilligrams[place] ?? 0) * KILOGRAM) / wholeMilligrams;
          expect(Math.abs(back - part)).toBeLessThan((step * KILOGRAM) / wholeMilligrams);
        }
      }),
    );
  });

  it("comes back to the milligram from whole kilograms on a fine scale", () => {
    fc.assert(
      fc.property(recipes, fc.integer({ min: 1, max: 30 }), (parts, kilograms) => {
        const { partMilligrams } = scaleTo(parts, kilograms * KILOGRAM, 1);
        expect(partMilligrams.map((part) => part / kilograms)).toEqual(parts);
      }),
    );
  });
});
