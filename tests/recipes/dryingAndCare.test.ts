import { describe, expect, it } from "vitest";
import { cautionsFor } from "../../server/recipes/cautions.ts";
import { dryMilligrams } from "../../server/recipes/drying.ts";
import { inMixingOrder } from "../../server/recipes/phases.ts";
import { judgeScents, limitsShared, type ScentedPart } from "../../server/recipes/scentLimits.ts";

function part(milligramsPerKilogram: number, given: Partial<ScentedPart> = {}): ScentedPart {
  return { milligramsPerKilogram, evaporatesBasisPoints: 0, kind: "other", limitPpm: null, ...given };
}

describe("a dry piece", () => {
  it("has lost what evaporates of each part; worked by hand", () => {
    // 30 g of alcohol go whole, of 20 g of a butter with 16 % water 3.2 g: 966.8 g a kilogram, of 118 g 114.082 g.
    const parts = [
      part(950_000),
      part(30_000, { evaporatesBasisPoints: 10_000 }),
      part(20_000, { evaporatesBasisPoints: 1600 }),
    ];
    expect(dryMilligrams(parts, 1_000_000)).toBe(966_800);
    expect(dryMilligrams(parts, 118_000)).toBe(114_082);
  });

  it("is never said to be heavier than it is", () => {
    // A third of 100 mg is lost: 66.67 mg are left, said as 66.
    expect(dryMilligrams([part(666_667), part(333_333, { evaporatesBasisPoints: 10_000 })], 100)).toBe(66);
  });
});

/** 3.9 g of scent in 136 g of wet mix that dries to 130 g, in milligrams a kilogram; the rest stays. */
function scented(limitPpm: number | null): readonly ScentedPart[] {
  return [
    part(28_676, { kind: "scent", limitPpm }),
    part(44_118, { evaporatesBasisPoints: 10_000 }),
    part(927_206),
  ];
}

describe("a scent oil", () => {
  // The two limits are those of two published certificates for category 9 (IFRA 49th amendment): 1.49 and 14.46 %.
  it("is judged by its share of the dry piece, not of the wet mix", () => {
    // 3.9 / 130 = 3.00 %; of the wet mix it would be 2.87 %. The parts above are rounded to the milligram.
    expect(judgeScents(scented(14_900))).toEqual([
      { place: 0, sharePpm: 30_000, limitPpm: 14_900, verdict: "above" },
    ]);
    expect(judgeScents(scented(144_600))[0]?.verdict).toBe("within");
    expect(judgeScents(scented(28_700))[0]?.verdict).toBe("above");
  });

  it("may use its limit to the full, and not a millionth more", () => {
    expect(judgeScents(scented(30_000))[0]?.verdict).toBe("within");
    expect(judgeScents(scented(29_999))[0]?.verdict).toBe("above");
  });

  it("without a limit is never said to be safe", () => {
    expect(judgeScents(scented(null))[0]).toMatchObject({ limitPpm: null, verdict: "unknown" });
  });

  it("may share its limit with another one", () => {
    const two = (first: number, second: number) =>
      judgeScents([
        part(first, { kind: "scent", limitPpm: 20_000 }),
        part(second, { kind: "scent", limitPpm: 10_000 }),
        part(1_000_000 - first - second),
      ]);
    // A half and a half make the whole; a half and a little more than a half are too much together.
    expect(limitsShared(two(10_000, 5000))).toBe(false);
    expect(limitsShared(two(10_000, 5001))).toBe(true);
    expect(limitsShared(judgeScents(scented(14_900)))).toBe(false);
  });
});

describe("cautions", () => {
  const plain = { dusty: false, flammable: false } as const;

  it("come from what is in the recipe", () => {
    expect(cautionsFor([{ kind: "filler", ...plain }])).toEqual(["skin"]);
    expect(cautionsFor([{ kind: "surfactant", ...plain }])).toEqual(["dust", "foam", "skin"]);
    expect(cautionsFor([{ kind: "alcohol", ...plain }])).toEqual(["fire", "skin"]);
    expect(
      cautionsFor([
        { kind: "soda", ...plain },
        { kind: "acid", ...plain },
        { kind: "scent", ...plain },
        { kind: "oil", ...plain },
        { kind: "colour", ...plain },
      ]),
    ).toEqual(["dust", "gas", "scent", "slips", "stains", "skin"]);
  });

  it("heed what is marked on an ingredient of another kind", () => {
    expect(cautionsFor([{ kind: "other", dusty: true, flammable: true }])).toEqual(["dust", "fire", "skin"]);
  });
});

it("parts are mixed dry first and the acid last, within a step as they were written", () => {
  const written = [
    { phase: "acid", name: "acid" },
    { phase: "liquid", name: "oil" },
    { phase: "dry", name: "soda" },
    { phase: "liquid", name: "scent" },
    { phase: "colour", name: "mica" },
    { phase: "dry", name: "starch" },
  ] as const;
  expect(inMixingOrder(written).map(({ name }) => name)).toEqual([
    "soda",
    "starch",
    "mica",
    "oil",
    "scent",
    "acid",
  ]);
});
