import { describe, expect, it } from "vitest";
import { labelContent, type RecipePart } from "../../server/labels/labelContent.ts";
import { listedAllergens } from "../../server/labels/listedAllergens.ts";
import type { Market } from "../../server/labels/markets.ts";
import { labelWords } from "../../views/labels/labelWords.ts";
import { isAllowedOrder } from "./allowedOrder.ts";
import { maker, part, pieces } from "./labelRoom.ts";

/** A scent oil by its share of the mix, with allergens by their share of the oil, both in per cent. */
function oil(name: string, perCent: number, allergens: Readonly<Record<string, number>> | null): RecipePart {
  const stated =
    allergens && Object.entries(allergens).map(([of, share]) => ({ name: of, sharePpm: share * 10_000 }));
  return part(name, perCent, { kind: "scent", labelName: "", allergens: stated });
}

const soda = (perCent: number) => part("Soda", perCent, { kind: "soda" });
const named = (parts: readonly RecipePart[], market: Market = "eu") =>
  listedAllergens(parts, market)?.toName.map(({ name }) => name);

/** Regulation (EC) 1223/2009, Annex III, as amended by (EU) 2023/1545: above 0.01 per cent where it is rinsed off. */
describe("a listed allergen", () => {
  it("is named above 0.01 per cent, and not at exactly so much", () => {
    // 0.5 % of an oil that is 2 % of the piece are 0.010 %; 0.6 % are 0.012 %.
    expect(named([soda(98), oil("cedar oil", 2, { Linalool: 0.5 })])).toEqual([]);
    expect(named([soda(98), oil("cedar oil", 2, { Linalool: 0.5001 })])).toEqual(["Linalool"]);
    expect(named([soda(98), oil("cedar oil", 2, { Linalool: 0.6 })])).toEqual(["Linalool"]);
  });

  it("is a share of the dry piece: what evaporates makes it more", () => {
    // 0.5 % of 2 g are 10 mg, of 100 g exactly the limit; of the 96 g that stay more than it.
    const alcohol = part("Alcohol", 4, { kind: "alcohol", evaporatesBasisPoints: 10_000 });
    expect(named([soda(94), alcohol, oil("cedar oil", 2, { Linalool: 0.5 })])).toEqual(["Linalool"]);
  });

  it("adds up over the oils that hold it, however its name is written", () => {
    const two = (first: number, second: number) =>
      named([soda(97), oil("cedar oil", 2, { Linalool: first }), oil("oat oil", 1, { LINALOOL: second })]);
    expect(two(0.25, 0.5)).toEqual([]);
    expect(two(0.25, 0.5001)).toEqual(["Linalool"]);
  });

  it("stands before those of which there is less", () => {
    const held = { Citral: 1, Linalool: 3, Limonene: 2 };
    expect(named([soda(98), oil("cedar oil", 2, held)])).toEqual(["Linalool", "Limonene", "Citral"]);
  });

  it("is asked for in the European Union and the United Kingdom", () => {
    const parts = [soda(98), oil("cedar oil", 2, { Linalool: 9 })];
    expect(named(parts, "uk")).toEqual(["Linalool"]);
    expect([named(parts, "us"), named(parts, "none")]).toEqual([undefined, undefined]);
  });

  it("of an oil without a statement is known to nobody; a statement that lists none is one", () => {
    const unstated = (allergens: Readonly<Record<string, number>> | null) =>
      listedAllergens([soda(98), oil("cedar oil", 2, allergens)], "eu")?.unstated;
    expect(unstated(null)).toEqual(["cedar oil"]);
    expect(unstated({})).toEqual([]);
  });
});

describe("a label's ingredients", () => {
  const listedOn = (parts: readonly RecipePart[], market: Market = "eu") =>
    labelContent(pieces({ parts }), maker({ market })).ingredients ?? [];
  const mica = part("Mica", 0.1, { kind: "colour" });

  it("are followed by the allergens, the most first, and by the colours", () => {
    const parts = [
      mica,
      soda(97.5),
      oil("cedar oil", 2, { Limonene: 1, Linalool: 3, Citral: 0.1 }),
      part("Polysorbate 80", 0.01),
    ];
    const content = labelContent(pieces({ parts }), maker({ market: "eu" }));
    expect(labelWords(content).ingredients).toBe(
      "Ingredients: Soda, Parfum, Polysorbate 80, Linalool, Limonene, Mica.",
    );
    expect(isAllowedOrder(listedOn(parts))).toBe(true);
    expect(listedOn(parts, "us").map(({ name }) => name)).toEqual([
      "Soda",
      "Fragrance",
      "Polysorbate 80",
      "Mica",
    ]);
  });

  it("keep the order by weight where an allergen is more than one per cent", () => {
    const parts = [soda(93), oil("cedar oil", 5, { Linalool: 30 }), part("Starch", 1.2), part("Salt", 0.8)];
    expect(listedOn(parts).map(({ name }) => name)).toEqual(["Soda", "Parfum", "Linalool", "Starch", "Salt"]);
    expect(isAllowedOrder(listedOn(parts))).toBe(true);
  });

  it("name an allergen once that is stirred in by itself", () => {
    const parts = [soda(97), part("Linalool", 1), oil("cedar oil", 2, { LINALOOL: 3 })];
    expect(listedOn(parts).map(({ name }) => name)).toEqual(["Soda", "Parfum", "Linalool"]);
  });
});
