import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inLabelOrder, type LabelPart } from "../../server/labels/ingredientOrder.ts";
import {
  leastIngredientHeight,
  leastWarningHeight,
  leastWeightHeight,
  panelArea,
} from "../../server/labels/typeHeight.ts";
import { isAllowedOrder } from "./allowedOrder.ts";

const inch = 25_400;
const rectangle = (width: number, height: number) => ({
  widthMicrometres: width * inch,
  heightMicrometres: height * inch,
  isRound: false,
});
const sixteenth = inch / 16;

function part(name: string, perCent: number, kind: LabelPart["kind"] = "other"): LabelPart {
  return { name, kind, milligramsPerKilogram: Math.round(perCent * 10_000) };
}

/** 21 CFR 701.3(f) and Regulation (EC) 1223/2009, Article 19(1)(g). */
describe("ingredients on a label", () => {
  const mix = [
    part("mica", 0.2, "colour"),
    part("polysorbate", 0.4, "solubiliser"),
    part("rose oil", 1.4, "scent"),
    part("oil", 2, "oil"),
    part("SLSA", 6, "surfactant"),
    part("starch", 12, "filler"),
    part("citric acid", 26, "acid"),
    part("bicarbonate", 52, "soda"),
  ];

  it("stand by weight, colours last", () => {
    expect(inLabelOrder(mix, "us").map(({ name }) => name)).toEqual([
      "bicarbonate",
      "citric acid",
      "starch",
      "SLSA",
      "oil",
      "Fragrance",
      "polysorbate",
      "mica",
    ]);
  });

  it("stand in an order that is allowed, whatever the recipe", () => {
    expect(isAllowedOrder([part("acid", 26), part("soda", 52)])).toBe(false);
    expect(isAllowedOrder([part("polysorbate", 0.4), part("scent", 1.4)])).toBe(false);
    expect(isAllowedOrder([part("mica", 0.2, "colour"), part("acid", 26)])).toBe(false);
    expect(isAllowedOrder([part("acid", 26), part("polysorbate", 0.4), part("salt", 1)])).toBe(true);
    const parts = fc.array(
      fc.record({
        name: fc.constantFrom("soda", "acid", "oil", "Linalool", "mica", "clay", "cedar oil", "oat oil"),
        kind: fc.constantFrom("soda", "oil", "scent", "colour", "allergen"),
        milligramsPerKilogram: fc.oneof(fc.integer({ min: 1, max: 20_000 }), fc.constantFrom(10_000, 10_001)),
      }),
    );
    fc.assert(
      fc.property(parts, (mix) => {
        const kindByName = new Map(mix.map(({ name, kind }) => [name, kind]));
        const told = mix.map((one) => ({ ...one, kind: kindByName.get(one.name) ?? one.kind }));
        expect(isAllowedOrder(inLabelOrder(told, "eu"))).toBe(true);
      }),
    );
  });

  it("have their colours last even where these are heavy", () => {
    const names = inLabelOrder([part("clay", 5, "colour"), part("oil", 2, "oil")], "eu");
    expect(names.map(({ name }) => name)).toEqual(["oil", "clay"]);
  });

  it.each([
    ["us", "Fragrance"],
    ["eu", "Parfum"],
    ["uk", "Parfum"],
    ["none", "rose oil"],
  ] as const)("call a scent in %s: %s", (market, name) => {
    expect(inLabelOrder([part("rose oil", 1, "scent")], market)[0]?.name).toBe(name);
  });

  it("are named once, by all there is of them: two scents, or water stirred in twice", () => {
    const listed = inLabelOrder(
      [
        part("cedar oil", 1, "scent"),
        part("oil", 1.5, "oil"),
        part("oat oil", 0.9, "scent"),
        part("water", 1, "water"),
        part("water", 0.3, "water"),
      ],
      "eu",
    );
    expect(listed.map(({ name, milligramsPerKilogram }) => [name, milligramsPerKilogram])).toEqual([
      ["Parfum", 19_000],
      ["oil", 15_000],
      ["water", 13_000],
    ]);
  });
});

/** 21 CFR 701.13(h), (i): the steps at 5, 25 and 100 square inches, from memory; the areas are worked by hand. */
describe("the least height of the net weight", () => {
  it("follows the panel in the United States, a full step still in the lower one", () => {
    const height = (width: number, high: number) => leastWeightHeight("us", rectangle(width, high), 130_000);
    expect(height(2.5, 2)).toBe(sixteenth);
    expect(height(2.5, 2.001)).toBe(2 * sixteenth);
    expect(height(5, 5)).toBe(2 * sixteenth);
    expect(height(5, 5.001)).toBe(3 * sixteenth);
    expect(height(10, 10)).toBe(3 * sixteenth);
    expect(height(10, 10.001)).toBe(4 * sixteenth);
  });

  it("knows a circle from its square: 2.5 inches across are 4.91 square inches, and 6.25", () => {
    const circle = { ...rectangle(2.5, 2.5), isRound: true };
    expect(panelArea(circle) / 645.16).toBeCloseTo(4.91, 2);
    expect(leastWeightHeight("us", circle, 130_000)).toBe(sixteenth);
    expect(leastWeightHeight("us", rectangle(2.5, 2.5), 130_000)).toBe(2 * sixteenth);
  });

  it("follows the weight in the European Union and the United Kingdom (Directive 76/211/EEC, from memory)", () => {
    const height = (grams: number) => leastWeightHeight("eu", rectangle(1, 1), grams * 1000);
    expect([50, 50.1, 200, 200.1, 1000, 1000.1].map(height)).toEqual([2000, 3000, 3000, 4000, 4000, 6000]);
    expect(leastWeightHeight("uk", rectangle(1, 1), 118_000)).toBe(3000);
  });

  it("is not claimed where no market is chosen", () => {
    expect(leastWeightHeight("none", rectangle(1, 1), 118_000)).toBeNull();
    expect(leastIngredientHeight("none", rectangle(1, 1))).toBeNull();
    expect(leastWarningHeight("none")).toBeNull();
  });
});

/** 21 CFR 701.3(b) and (p). */
describe("the least height of ingredients", () => {
  it("is half of it below 12 square inches", () => {
    expect(leastIngredientHeight("us", rectangle(1.5, 1.5))).toBe(sixteenth / 2);
    expect(leastIngredientHeight("us", rectangle(3, 3.999))).toBe(sixteenth / 2);
    expect(leastIngredientHeight("us", rectangle(3, 4))).toBe(sixteenth);
  });
});
