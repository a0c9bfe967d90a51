import { describe, expect, it } from "vitest";
import { labelContent } from "../../server/labels/labelContent.ts";
import { labelWords, netWeightWords } from "../../views/labels/labelWords.ts";
import { foamingMix, maker, part, pieces } from "./labelRoom.ts";

const wordsFor = (...given: Parameters<typeof labelContent>) => labelWords(labelContent(...given));

/** The words of 21 CFR 740.17 as published (51 FR 20475). */
const quotation =
  "Caution—Use only as directed. Excessive use or prolonged exposure may cause irritation to skin and urinary tract. Discontinue use if rash, redness, or itching occurs. Consult your physician if irritation persists. Keep out of reach of children.";

describe("the words of a label", () => {
  it("say in the United States what a foaming piece has to say", () => {
    // 130 g with 4 % of alcohol are 124.8 g dry: 124 g, and 4.4022 oz.
    expect(wordsFor(pieces(), maker())).toEqual({
      name: "Cedar ball",
      identity: "Bath bomb",
      ingredients:
        "Ingredients: Sodium Bicarbonate, Citric Acid, Zea Mays Starch, Sodium Lauryl Sulfoacetate, Isopropyl Alcohol, Prunus Amygdalus Dulcis Oil, Fragrance, Polysorbate 80, Mica.",
      cautions: `Keep dry. Drop into a full bath. ${quotation} The tub may be slippery. Colours may stain: rinse the tub.`,
      maker: "Made by Tidepool & Thimble, 1 Sandbar Lane, Lower Brackish, XX 00000",
      contact: "tidepool.halfmold.example",
      lot: "Lot K7QF",
      durability: "",
      weight: "Net Wt 4.4 oz (124 g)",
    });
  });

  it("leave out what nobody knows: lot, recipe, maker", () => {
    const unknown = wordsFor(
      pieces({ lotCode: null, parts: null }),
      maker({ makerName: "", makerPlace: "", contact: "" }),
    );
    expect(unknown).toMatchObject({ lot: "", ingredients: "", weight: "", maker: "", contact: "" });
  });
});

describe("the caution for foaming bath products", () => {
  const hasIt = (...given: Parameters<typeof labelContent>) =>
    wordsFor(...given).cautions.includes("Caution—");
  const withoutFoam = pieces({ parts: foamingMix.filter(({ kind }) => kind !== "surfactant") });

  it("stands there in the United States where the recipe has a surfactant", () => {
    expect(hasIt(pieces(), maker())).toBe(true);
    expect(hasIt(withoutFoam, maker())).toBe(false);
  });

  it("is not asked for where the label says for adults only, which it then says", () => {
    const adults = maker({ adultsOnly: true });
    expect(hasIt(pieces(), adults)).toBe(false);
    expect(wordsFor(pieces(), adults).cautions).toContain("For adults only.");
  });

  it.each(["eu", "uk", "none"] as const)("is not the rule of %s, where our own cautions stand", (market) => {
    expect(hasIt(pieces(), maker({ market }))).toBe(false);
    expect(wordsFor(pieces(), maker({ market })).cautions).toContain("Not for sore or broken skin");
  });
});

describe("the net weight of a label", () => {
  const declared = (declaredMilligrams: number | null) =>
    labelContent(pieces({ declaredMilligrams }), maker()).netWeight;

  it("is that of the dry piece, or the lower one the maker wants", () => {
    expect(declared(null)).toEqual({ milligrams: 124_000, ounceHundredths: 440 });
    // 113 g are 3.9860 oz.
    expect(declared(113_000)).toEqual({ milligrams: 113_000, ounceHundredths: 398 });
  });

  it("is never more than the dry piece, whatever was declared of an earlier recipe", () => {
    expect(declared(128_000)).toEqual({ milligrams: 124_000, ounceHundredths: 440 });
  });

  it("has both units: ounces first in the United States, pounds beside them from a pound on", () => {
    expect(netWeightWords({ milligrams: 118_000, ounceHundredths: 416 }, true)).toBe(
      "Net Wt 4.16 oz (118 g)",
    );
    expect(netWeightWords({ milligrams: 118_000, ounceHundredths: 416 }, false)).toBe(
      "Net weight 118 g (4.16 oz)",
    );
    expect(netWeightWords({ milligrams: 453_000, ounceHundredths: 1597 }, true)).toBe(
      "Net Wt 15.97 oz (453 g)",
    );
    expect(netWeightWords({ milligrams: 454_000, ounceHundredths: 1601 }, true)).toBe(
      "Net Wt 16.01 oz (1 lb 0.01 oz) 454 g",
    );
  });
});

describe("an ingredient nobody has a label's name for", () => {
  it("is named as the workshop calls it, and told", () => {
    const content = labelContent(
      pieces({ parts: [part("Shore soda", 99, { labelName: "" }), part("Mica", 1)] }),
      maker({ market: "eu" }),
    );
    expect(labelWords(content).ingredients).toBe("Ingredients: Shore soda, Mica.");
    expect(content.unnamed).toEqual(["Shore soda"]);
  });

  it("may be a scent where a market names all scents by one word, and nowhere else", () => {
    expect(labelContent(pieces(), maker({ market: "uk" })).unnamed).toEqual([]);
    expect(labelContent(pieces(), maker({ market: "none" })).unnamed).toEqual(["Cedar scent oil"]);
  });
});
