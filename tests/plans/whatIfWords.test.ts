import { describe, expect, it } from "vitest";
import type { WhatIfFigures } from "../../views/plans/whatIfFigures.ts";
import { whatIfHeadline } from "../../views/plans/whatIfWords.ts";

function whatIf(given: Partial<WhatIfFigures>, costs: readonly [today: number, changed: number] = [84, 84]) {
  const [today, changed] = costs.map((cost) => ({ cost, bound: 0, handMinutes: 600 }));
  if (today === undefined || changed === undefined) throw new Error("two costs");
  const nothing = { molds: null, trays: null, mixers: null, handMinutes: null, damp: null, without: null };
  return whatIfHeadline({ ...nothing, added: null, today, changed, orders: [], ...given });
}

describe("the answer of a what-if in a sentence", () => {
  it("names everything that is different", () => {
    const all = {
      molds: { shape: "Ball", sets: 30 },
      trays: 9,
      mixers: 1,
      handMinutes: -90,
      damp: { date: "2027-03-02", factor: 1.5 },
      without: "W-104",
      added: { product: "Cedar ball", units: 12, shipBy: "2027-03-04" },
    };
    expect(whatIf(all)).toMatch(
      /^With 30 mold sets of Ball, 9 trays, 1 mixer, 1 h 30 min less of hands in every session, 12 pieces more of Cedar ball by Thursday 4 March and drying 1\.5 times as long on Tuesday 2 March and without W-104: /,
    );
    expect(whatIf({ without: "W-104" })).toMatch(/^Without W-104: /);
  });

  it("says what comes of it", () => {
    const effect = (today: number, changed: number) => whatIf({ trays: 9 }, [today, changed]).slice(14);
    expect(effect(84, 0)).toBe("everything ships on time, instead of 84 piece-days late.");
    expect(effect(84, 70)).toBe("14 piece-days less lateness, 70 instead of 84.");
    expect(effect(84, 85)).toBe("1 piece-day more lateness, 85 instead of 84.");
    expect(effect(84, 84)).toBe("still late by 84 piece-days, no less and no more.");
    expect(effect(0, 0)).toBe("everything still ships on time.");
  });
});
