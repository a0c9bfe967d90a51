import { describe, expect, it } from "vitest";
import { amountWords, atMostOunceWords, cautionWords, ounceWords } from "../../views/recipes/recipeWords.ts";

describe("ounces", () => {
  // NIST's rule that net contents are never overstated, worked by hand: 130 g = 4.5856 oz, so 4.59 oz would be too much;
  // 113 g = 3.9860 oz, so 4 oz would; 170 g = 5.9966 oz.
  it.each([
    [130_000, "4.58 oz"],
    [113_000, "3.98 oz"],
    [170_000, "5.99 oz"],
    [127_573, "4.50 oz"],
    [127_572, "4.49 oz"],
  ])("of a label never say more than %i mg", (milligrams, words) => {
    expect(atMostOunceWords(milligrams)).toBe(words);
  });

  it("for weighing are the nearest", () => {
    expect(ounceWords(130_000)).toBe("4.59 oz");
  });
});

it("an amount is said in its unit, the two fluid ounces told apart", () => {
  expect(amountWords(2000, "fl-oz-us")).toBe("2 fl oz (US)");
  expect(amountWords(1500, "fl-oz-imperial")).toBe("1.5 fl oz (imperial)");
});

it("each caution has a name and a sentence", () => {
  for (const { name, words } of Object.values(cautionWords))
    expect(`${name} ${words}`).toMatch(/^\w+\. .+\.$/);
});
