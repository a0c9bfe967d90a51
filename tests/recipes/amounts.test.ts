import { describe, expect, it } from "vitest";
import {
  type Amount,
  type AmountUnit,
  massOf,
  toMilligrams,
  weightOf,
} from "../../server/recipes/amounts.ts";

const amount = (units: number, unit: AmountUnit): Amount => ({ thousandths: Math.round(units * 1000), unit });

/** Milligrams of an amount of something of that density in grams per litre. */
function milligrams(units: number, unit: AmountUnit, density: number | null = null): number | string {
  const weight = weightOf(amount(units, unit), density);
  if (!weight.ok) return weight.refusal;
  return weight.value === null ? "no weight by itself" : toMilligrams(weight.value);
}

const ATTOGRAMS_A_GRAM = 10n ** 18n;

describe("a weight", () => {
  // NIST Handbook 44, Appendix C: the avoirdupois ounce is 28.349 523 125 g, the pound 453.592 37 g, both exactly.
  it("has the exact factors of NIST Handbook 44, Appendix C", () => {
    expect(massOf({ thousandths: 1000, unit: "g" })).toBe(ATTOGRAMS_A_GRAM);
    expect(massOf({ thousandths: 1000, unit: "kg" })).toBe(1000n * ATTOGRAMS_A_GRAM);
    expect(massOf({ thousandths: 1000, unit: "oz" }) * 10n ** 9n).toBe(28_349_523_125n * ATTOGRAMS_A_GRAM);
    expect(massOf({ thousandths: 1000, unit: "lb" }) * 10n ** 5n).toBe(45_359_237n * ATTOGRAMS_A_GRAM);
    // The same appendix by another way: a pound is 7000 grains, a grain 64.798 91 mg.
    expect(massOf({ thousandths: 1000, unit: "lb" })).toBe(
      (7000n * 6_479_891n * ATTOGRAMS_A_GRAM) / 10n ** 8n,
    );
    expect(16n * massOf({ thousandths: 1000, unit: "oz" })).toBe(massOf({ thousandths: 1000, unit: "lb" }));
  });

  it("is a weight whatever the density", () => {
    // 10 lb = 4535.9237 g.
    expect(milligrams(10, "lb")).toBe(4_535_924);
    expect(milligrams(10, "lb", 900)).toBe(4_535_924);
  });
});

describe("a volume", () => {
  // NIST Handbook 44, Appendix C: US fluid ounce 29.573 529 562 5 ml, teaspoon 4.928 921 593 75 ml, both exactly. The
  // imperial fluid ounce, 28.413 062 5 ml, is a 160th of the gallon of 4.546 09 l (from memory).
  it.each([
    ["ml", 1n, 0],
    ["fl-oz-us", 295_735_295_625n, 10],
    ["fl-oz-imperial", 284_130_625n, 7],
    ["tsp", 492_892_159_375n, 11],
  ] as const)("in %s weighs by the ingredient's density exactly", (unit, digits, decimals) => {
    // Of water at 1000 g/l a millilitre is a gram.
    const weight = weightOf({ thousandths: 1000, unit }, 1000);
    expect(weight).toEqual({ ok: true, value: (digits * ATTOGRAMS_A_GRAM) / 10n ** BigInt(decimals) });
  });

  it("agrees with worked spoonfuls", () => {
    // A teaspoon of almond oil: 4.928 921 593 75 x 0.914 = 4.505 g. Density 0.910 to 0.915 (USP, as quoted by makers).
    expect(milligrams(1, "tsp", 914)).toBe(4505);
    // Two US fluid ounces of alcohol at 0.82 g/ml: 48.50 g; the imperial ones are 4 % smaller, 46.597 g.
    expect(milligrams(2, "fl-oz-us", 820)).toBe(48_501);
    expect(milligrams(2, "fl-oz-imperial", 820)).toBe(46_597);
    // Six teaspoons make a US fluid ounce.
    expect(milligrams(6, "tsp", 820)).toBe(milligrams(1, "fl-oz-us", 820));
  });

  it("is refused without a density, never guessed", () => {
    for (const unit of ["ml", "fl-oz-us", "fl-oz-imperial", "tsp"] as const)
      expect(milligrams(1, unit), unit).toBe("density-unknown");
  });
});

it("a share has no weight by itself", () => {
  expect(milligrams(5, "percent", 914)).toBe("no weight by itself");
});
