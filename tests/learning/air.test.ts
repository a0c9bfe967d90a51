import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type DryingSeen, dryingRatio, normalBelow } from "../../server/learning/dryingRatio.ts";
import { saturationPascals, suggestedFactor, vapourDeficit } from "../../server/learning/vapour.ts";

describe("the saturation pressure of water vapour", () => {
  // ASHRAE Handbook of Fundamentals 2017, chapter 1, table 3, in pascals; the formula stays within 300 parts in a million.
  it.each([
    [5, 872.6],
    [25, 3169.7],
    [50, 12351.3],
    [100, 101418],
  ])("at %i degrees is the published one", (celsius, pascals) => {
    expect(Math.abs(saturationPascals(celsius) / pascals - 1)).toBeLessThan(300e-6);
  });

  // By the formulas of the same handbook, as PsychroLib 2.5 has them.
  it.each([
    [5, 30, 872.49, 610.74],
    [5, 50, 872.49, 436.24],
    [5, 70, 872.49, 261.75],
    [5, 80, 872.49, 174.5],
    [10, 30, 1228.0, 859.6],
    [10, 50, 1228.0, 614.0],
    [10, 70, 1228.0, 368.4],
    [10, 80, 1228.0, 245.6],
    [15, 30, 1705.45, 1193.81],
    [15, 50, 1705.45, 852.72],
    [15, 70, 1705.45, 511.63],
    [15, 80, 1705.45, 341.09],
    [18, 30, 2064.29, 1445.0],
    [18, 50, 2064.29, 1032.15],
    [18, 70, 2064.29, 619.29],
    [18, 80, 2064.29, 412.86],
    [20, 30, 2338.8, 1637.16],
    [20, 50, 2338.8, 1169.4],
    [20, 70, 2338.8, 701.64],
    [20, 80, 2338.8, 467.76],
    [22, 30, 2644.75, 1851.33],
    [22, 50, 2644.75, 1322.38],
    [22, 70, 2644.75, 793.43],
    [22, 80, 2644.75, 528.95],
    [25, 30, 3169.22, 2218.45],
    [25, 50, 3169.22, 1584.61],
    [25, 70, 3169.22, 950.76],
    [25, 80, 3169.22, 633.84],
    [28, 30, 3782.21, 2647.54],
    [28, 50, 3782.21, 1891.1],
    [28, 70, 3782.21, 1134.66],
    [28, 80, 3782.21, 756.44],
    [30, 30, 4246.03, 2972.22],
    [30, 50, 4246.03, 2123.02],
    [30, 70, 4246.03, 1273.81],
    [30, 80, 4246.03, 849.21],
    [35, 30, 5627.82, 3939.47],
    [35, 50, 5627.82, 2813.91],
    [35, 70, 5627.82, 1688.35],
    [35, 80, 5627.82, 1125.56],
  ])(
    "at %i degrees and %i per cent leaves the deficit of a reference library",
    (celsius, percent, pressure, deficit) => {
      expect(Math.abs(saturationPascals(celsius) / pressure - 1)).toBeLessThan(1e-5);
      expect(vapourDeficit({ celsius, humidity: percent / 100 })).toBeCloseTo(deficit, 1);
    },
  );
});

describe("the suggested factor", () => {
  const reference = { celsius: 20, humidity: 0.5 };
  const factor = (celsius: number, percent: number, ratio = 1) =>
    suggestedFactor({ celsius, humidity: percent / 100 }, reference, ratio);

  it("is the reference day's deficit by the day's, in twentieths; worked by hand", () => {
    // 1169.4 Pa on the reference day. At 20 degrees and 70 % 701.6: 1.667; at 25 and 50 % 1584.6: 0.738.
    expect([factor(20, 50), factor(20, 70), factor(25, 50)]).toEqual([1, 1.65, 0.75]);
  });

  it("is corrected by what drying really took", () => {
    // 1.667 x 0.8 = 1.333
    expect(factor(20, 70, 0.8)).toBe(1.35);
  });

  it("stays within what a plan takes; in saturated air nothing dries", () => {
    expect([factor(20, 100), factor(20, 99), factor(50, 5)]).toEqual([10, 10, 0.25]);
  });

  it("grows with the humidity and falls with the temperature", () => {
    const air = fc.integer({ min: 0, max: 500 });
    const share = fc.integer({ min: 1, max: 1000 });
    fc.assert(
      fc.property(air, air, share, share, (one, other, dry, damp) => {
        const [cold, warm] = [Math.min(one, other), Math.max(one, other)];
        const [low, high] = [Math.min(dry, damp), Math.max(dry, damp)];
        expect(factor(cold / 10, high / 10)).toBeGreaterThanOrEqual(factor(cold / 10, low / 10));
        expect(factor(warm / 10, high / 10)).toBeLessThanOrEqual(factor(cold / 10, high / 10));
      }),
    );
  });
});

describe("what drying really took", () => {
  const lot = (dampAfter: number, dryAfter: number): DryingSeen => ({
    expectedMinutes: 1000,
    dampAfter,
    dryAfter,
  });
  const many = (seen: DryingSeen, count = 12) => dryingRatio(Array.from({ length: count }, () => seen));

  it("is found between the looks at which lots were damp and dry", () => {
    // Damp after 1.3 of what the formula says, dry after 1.5: about their geometric mean, 1.396.
    const learned = many(lot(1300, 1500));
    expect(learned?.ratio).toBeGreaterThan(1.3);
    expect(learned?.ratio).toBeLessThan(1.45);
    expect(learned).toMatchObject({ batches: 12, foundDamp: 12 });
    expect((learned?.high ?? 9) - (learned?.low ?? 0)).toBeLessThan(0.25);
  });

  it("is not taken to be long because a lot waited for the morning", () => {
    const learned = many(lot(0, 2000));
    expect(learned?.ratio).toBeGreaterThan(0.9);
    expect(learned?.ratio).toBeLessThan(1.05);
    // Nothing was learned: the spread is as wide as before any lot, exp(-+1.645 x 0.35) with a little less above.
    expect(learned?.low).toBeLessThan(0.6);
    expect(learned?.high).toBeGreaterThan(1.4);
  });

  it("is short where lots were felt dry early", () => {
    expect(many(lot(0, 700))?.ratio).toBeLessThan(0.7);
  });

  it("is not turned over by one lot that was written down wrongly", () => {
    const good = Array.from({ length: 12 }, () => lot(900, 1100));
    const before = dryingRatio(good)?.ratio ?? 0;
    const after = dryingRatio([lot(1900, 2100), ...good])?.ratio ?? 0;
    expect(Math.abs(after / before - 1)).toBeLessThan(0.02);
  });

  it("is the posterior of a plain numerical integration", () => {
    const seen = [lot(800, 1200), lot(0, 1500), lot(1100, 2000)];
    const learned = dryingRatio(seen);
    // Independent of the grid: trapezoids over a wide and fine range, the normal integrated by itself.
    const phi = (x: number) => {
      let sum = 0;
      for (let at = -8; at < x; at += 0.002) sum += Math.exp((-at * at) / 2) * Math.min(0.002, x - at);
      return sum / Math.sqrt(2 * Math.PI);
    };
    const density = (log: number) =>
      seen.reduce(
        (product, { expectedMinutes, dampAfter, dryAfter }, place) => {
          const below = (minutes: number) =>
            minutes === 0 ? 0 : phi((Math.log(minutes / expectedMinutes) - log) / 0.15);
          return product * (0.01 + 0.99 * (below(dryAfter) - below(dampAfter))) ** (2 ** (-place / 10));
        },
        Math.exp(-0.5 * (log / 0.35) ** 2),
      );
    const points = Array.from({ length: 401 }, (_, at) => -1.5 + at * 0.0075);
    const shares = points.map(density);
    const whole = shares.reduce((sum, share) => sum + share, 0);
    const below = (ratio: number) =>
      shares.reduce((sum, share, at) => sum + ((points[at] ?? 0) <= Math.log(ratio) ? share : 0), 0) / whole;
    expect(below(learned?.ratio ?? 0)).toBeCloseTo(0.5, 1);
    expect(Math.abs(below(learned?.low ?? 0) - 0.05)).toBeLessThan(0.015);
    expect(Math.abs(below(learned?.high ?? 0) - 0.95)).toBeLessThan(0.015);
  });

  it("is not known without a lot", () => {
    expect(dryingRatio([])).toBeNull();
  });
});

describe("the normal distribution", () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.1; from memory.
  it("has the published areas", () => {
    expect([0, 1, 1.645, 1.96, 3].map((deviate) => Number(normalBelow(deviate).toFixed(4)))).toEqual([
      0.5, 0.8413, 0.95, 0.975, 0.9987,
    ]);
    expect(normalBelow(-1)).toBeCloseTo(1 - normalBelow(1), 12);
  });
});
