import { describe, expect, it } from "vitest";
import type { OrderFigures, PlanFigures, ResourceFigures } from "../../views/plans/planFigures.ts";
import { planHeadline, qualityWords, reasonWords } from "../../views/plans/planWords.ts";

function order(given: Partial<OrderFigures>): OrderFigures {
  return {
    reference: "W-104",
    orderId: 1,
    customer: "The Lamplit Otter",
    shipBy: "2027-03-05",
    market: false,
    units: 36,
    spare: 0,
    readyOn: "2027-03-05",
    daysLate: 0,
    unitsShort: 0,
    fate: "safe",
    sources: [],
    ...given,
  };
}

const late = (reference: string, daysLate: number) => order({ reference, daysLate, fate: "late" });
const short = (reference: string, unitsShort: number) => order({ reference, unitsShort, fate: "short" });

function ballMolds(given: Partial<ResourceFigures>): ResourceFigures {
  return {
    kind: "moldSets",
    shape: "Ball",
    limit: 24,
    meanLoad: 0.9,
    peakLoad: 1,
    oneMoreSaves: 0,
    enough: null,
    ...given,
  };
}

function headline(
  orders: readonly OrderFigures[],
  given: { readonly bottleneck?: ResourceFigures; readonly fullest?: PlanFigures["fullest"] } = {},
): string {
  const plan: Pick<PlanFigures, "orders" | "fullest" | "holdUps"> = {
    orders,
    fullest: given.fullest ?? null,
    holdUps: { resources: [given.bottleneck ?? ballMolds({})], bottleneck: given.bottleneck ?? null },
  };
  return planHeadline(plan);
}

describe("the answer in a sentence", () => {
  it("names the day that is full when all is on time", () => {
    expect(headline([order({})], { fullest: { shape: "Ball", date: "2027-03-03" } })).toBe(
      "Everything ships on time; Wednesday 3 March is full to the last Ball mold.",
    );
  });

  it("says so when no molds are full", () => {
    expect(headline([order({})])).toBe("Everything ships on time, with molds to spare.");
  });

  it("counts the late orders, names the worst, and says what one step more would save", () => {
    const bottleneck = ballMolds({ oneMoreSaves: 14 });
    expect(headline([late("W-104", 3), late("W-98", 1)], { bottleneck })).toBe(
      "Two orders will be late, W-104 by 3 days; Ball molds hold you up: one set more saves 14 piece-days.",
    );
    expect(headline([late("W-104", 1)], { bottleneck: ballMolds({ oneMoreSaves: 1 }) })).toBe(
      "W-104 will be late by 1 day; Ball molds hold you up: one set more saves 1 piece-day.",
    );
  });

  it("says how many steps save something where a single one saves nothing", () => {
    const bottleneck = ballMolds({ kind: "trays", enough: { more: 3, saves: 20.5 } });
    expect(headline([late("W-104", 3)], { bottleneck })).toBe(
      "W-104 will be late by 3 days; trays hold you up: 3 trays more save 20.5 piece-days.",
    );
  });

  it("says so where more of one thing would save nothing", () => {
    expect(headline([late("W-104", 3)], { bottleneck: ballMolds({}) })).toBe(
      "W-104 will be late by 3 days; more of one thing alone would not help.",
    );
  });

  it("tells what is late from what can't be filled", () => {
    expect(headline([short("M-1", 4), short("M-2", 9), late("W-104", 3)])).toMatch(
      /^W-104 will be late by 3 days, and two can't be filled, M-2 lacks 9 pieces;/,
    );
    expect(headline([short("M-1", 4)])).toMatch(/^M-1 will lack 4 pieces;/);
  });
});

describe("how good a plan is", () => {
  it.each([
    [0, 0, "Nothing is late: no plan can be better on time."],
    [84, 84, "Late by 84 piece-days in all. This is proven best: no plan for these orders has less."],
    [84, 0, "Late by 84 piece-days in all. Whether another plan could have less is not proven."],
    [
      84,
      60,
      "Late by 84 piece-days in all. No plan has less than 60 piece-days: this one is at most 40 % from the best possible.",
    ],
  ])("of cost %d and bound %d", (cost, bound, words) => {
    expect(qualityWords({ cost, bound })).toBe(words);
  });
});

describe("why an order is ready when it is", () => {
  it("names its last pieces", () => {
    const sources = [
      { product: "Cedar ball", units: 6, from: "shelf" as const, pressedOn: null, packedOn: null },
      {
        product: "Cedar ball",
        units: 30,
        from: "run" as const,
        pressedOn: "2027-03-01",
        packedOn: "2027-03-03",
      },
    ];
    expect(reasonWords(order({ sources }), "2027-03-14")).toBe(
      "The last to come: 30 × Cedar ball, pressed Mon 1 Mar, packed Wed 3 Mar.",
    );
    expect(reasonWords(order({ sources: sources.slice(0, 1) }), "2027-03-14")).toBe(
      "All of it is on the shelf.",
    );
  });

  it("says what finds no place, before the market or within the days planned", () => {
    expect(reasonWords(short("W-104", 5), "2027-03-14")).toBe(
      "5 pieces find no place before Sun 14 Mar, the last day planned.",
    );
    expect(reasonWords({ ...short("M-1", 5), market: true }, "2027-03-14")).toBe(
      "5 pieces find no place before the market.",
    );
  });
});
