import { describe, expect, it } from "vitest";
import { lateWords, mostHeldWords } from "../../views/plans/lateWords.ts";
import type { HeldByFigures, LateFigures } from "../../views/plans/planFigures.ts";
import { bottleneckWords, planHeadline } from "../../views/plans/planWords.ts";

const molds: HeldByFigures = {
  kind: "moldSets",
  shape: "Ball",
  from: "2027-03-02",
  to: "2027-03-04",
  others: ["W-98", "W-101"],
  alreadyDrying: false,
};

function late(given: Partial<LateFigures> = {}): LateFigures {
  return {
    reference: "W-104",
    orderId: 1,
    customer: "The Lamplit Otter",
    market: false,
    shipBy: "2027-03-03",
    readyOn: "2027-03-05",
    daysLate: 2,
    unitsShort: 0,
    waitsFor: { product: "Cedar ball", units: 24 },
    heldBy: molds,
    alone: { readyOn: "2027-03-03", isProven: true },
    unavoidableDays: 0,
    ...given,
  };
}

describe("why an order is late", () => {
  it("names what it waits for, who has the room it needs and when, and that sharing is the reason", () => {
    expect(lateWords(late())).toEqual([
      "It waits for 24 × Cedar ball that are packed on Friday 5 March, 2 days late.",
      "The Ball molds are all taken between Tuesday 2 March and Thursday 4 March, by W-98 and W-101.",
      "Alone in the workshop it would be ready on Wednesday 3 March, in time: what it lacks comes from sharing.",
    ]);
  });

  it("tells lateness that no plan could avoid from lateness that comes from sharing", () => {
    const last = (given: Partial<LateFigures>) => lateWords(late(given)).at(-1);
    const friday = { readyOn: "2027-03-05", isProven: true };
    expect(last({ alone: friday, unavoidableDays: 2 })).toBe(
      "Alone in the workshop it would be ready on Friday 5 March: late whatever you do.",
    );
    expect(last({ alone: { ...friday, isProven: false }, unavoidableDays: 2 })).toBe(
      "Alone in the workshop it would be ready on Friday 5 March, as far as was found: late whatever you do.",
    );
    expect(last({ alone: { readyOn: "2027-03-04", isProven: true }, unavoidableDays: 1 })).toBe(
      "Alone in the workshop it would be ready on Thursday 4 March: 1 of its 2 days can't be helped, the rest comes from sharing.",
    );
    expect(last({ alone: { readyOn: null, isProven: true } })).toMatch(
      /^Even alone .* late whatever you do\.$/,
    );
    expect(last({ alone: { readyOn: null, isProven: false } })).toMatch(/no plan was found/);
  });

  it("says what finds no place", () => {
    const [missing] = lateWords(late({ unitsShort: 24, readyOn: null }));
    expect(missing).toBe("24 × Cedar ball find no place.");
    const [more] = lateWords(late({ unitsShort: 30, readyOn: null, market: true }));
    expect(more).toBe("30 pieces find no place before the market, above all 24 × Cedar ball.");
  });

  it("names a few of many, the order itself, and what was drying already", () => {
    const held = (given: Partial<HeldByFigures>) => lateWords(late({ heldBy: { ...molds, ...given } }))[1];
    const six = ["W-1", "W-2", "W-3", "W-4", "W-5", "W-6"];
    expect(held({ others: six, to: molds.from })).toBe(
      "The Ball molds are all taken on Tuesday 2 March, by W-1, W-2, W-3 and 3 more orders.",
    );
    expect(held({ others: [] })).toMatch(/by the order itself\.$/);
    expect(held({ others: [], alreadyDrying: true, kind: "trays" })).toMatch(
      /^The trays are all taken .* by what was drying already\.$/,
    );
    expect(lateWords(late({ heldBy: null }))[1]).toMatch(/room for a piece, but not for all/);
  });
});

describe("what holds the whole plan up", () => {
  const order = {
    reference: "W-104",
    orderId: 1,
    customer: "",
    shipBy: "2027-03-03",
    market: false,
    units: 36,
    spare: 0,
    readyOn: "2027-03-05",
    daysLate: 2,
    unitsShort: 0,
    fate: "late" as const,
    sources: [],
  };

  it("is what most late orders wait for, where nobody asked what more of it would save", () => {
    const plan = { orders: [order], fullest: null, holdUps: { resources: [], bottleneck: null } };
    expect(planHeadline(plan, [late()])).toBe("W-104 will be late by 2 days; it waits for Ball molds.");
    expect(planHeadline(plan)).toBe("W-104 will be late by 2 days.");
    expect(mostHeldWords([late(), late({ heldBy: { ...molds, kind: "trays" } }), late()])).toBe(
      "most of the waiting is for Ball molds",
    );
    expect(mostHeldWords([late(), late()])).toBe("all of them wait for Ball molds");
  });

  it("is what one step more of saves most, or the fullest where more saves nothing", () => {
    const trays = { shape: "", limit: 8, meanLoad: 0.9, peakLoad: 1, enough: null };
    const bottleneck = { ...trays, kind: "trays" as const, oneMoreSaves: 14 };
    expect(bottleneckWords({ resources: [bottleneck], bottleneck })).toBe(
      "Trays hold you up: one tray more saves 14 piece-days.",
    );
    const idle = { ...bottleneck, oneMoreSaves: 0 };
    expect(bottleneckWords({ resources: [idle], bottleneck: idle })).toBe(
      "More of one thing alone would save nothing. Fullest on average: trays.",
    );
  });
});
