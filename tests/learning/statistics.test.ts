import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { goodOf, pressFor } from "../../server/learning/expectedLosses.ts";
import { lossRate } from "../../server/learning/lossRate.ts";
import { meanOf } from "../../server/learning/meanOf.ts";
import { studentQuantile } from "../../server/learning/studentT.ts";
import { effectiveSize, recencyWeights } from "../../server/learning/weights.ts";
import { wilsonSpread } from "../../server/learning/wilson.ts";

describe("Wilson's interval", () => {
  // Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine 17 (1998), 857-872,
  // table I, method 3; the values from memory, each to the four decimals printed there.
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])("is the published one for %i of %i", (lost, size, low, high) => {
    const spread = wilsonSpread(lost / size, size, 1.959963984540054);
    expect(spread.low).toBeCloseTo(low, 4);
    expect(spread.high).toBeCloseTo(high, 4);
  });

  it("holds the shares that a score test does not refuse, at both of its ends", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 400 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (size, part) => {
          const share = Math.round(part * size) / size;
          for (const end of Object.values(wilsonSpread(share, size, 2))) {
            if (end <= 1e-12 || end >= 1 - 1e-12) continue;
            expect(Math.abs(share - end) / Math.sqrt((end * (1 - end)) / size)).toBeCloseTo(2, 6);
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe("Student's t", () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2, upper critical values; from memory.
  it.each([
    [0.95, [6.314, 2.92, 2.353, 2.132, 2.015, 1.812, 1.725, 1.697, 1.66]],
    [0.975, [12.706, 4.303, 3.182, 2.776, 2.571, 2.228, 2.086, 2.042, 1.984]],
    [0.99, [31.821, 6.965, 4.541, 3.747, 3.365, 2.764, 2.528, 2.457, 2.364]],
  ])("has the published critical values at %f", (probability, values) => {
    const degrees = [1, 2, 3, 4, 5, 10, 20, 30, 100];
    expect(degrees.map((of) => Number(studentQuantile(probability, of).toFixed(3)))).toEqual(values);
  });

  it("is known in closed form for one and two degrees of freedom, and lies between for those between", () => {
    for (const p of [0.6, 0.9, 0.999]) {
      expect(studentQuantile(p, 1)).toBeCloseTo(Math.tan(Math.PI * (p - 0.5)), 6);
      expect(studentQuantile(p, 2)).toBeCloseTo((2 * p - 1) / Math.sqrt(2 * p * (1 - p)), 8);
      const between = studentQuantile(p, 1.5);
      expect(between).toBeLessThan(studentQuantile(p, 1));
      expect(between).toBeGreaterThan(studentQuantile(p, 2));
    }
  });
});

describe("the weights of batches", () => {
  it("halve every ten batches", () => {
    const weights = recencyWeights(21);
    expect([weights[0], weights[10], weights[20]]).toEqual([1, 0.5, 0.25]);
  });

  it("are worth between one batch and as many as there are, all where they are equal", () => {
    expect(effectiveSize([1, 1, 1, 1])).toBe(4);
    // (1 + 1/2)^2 / (1 + 1/4) = 2.25 / 1.25
    expect(effectiveSize([1, 0.5])).toBeCloseTo(1.8, 12);
    expect(effectiveSize([])).toBe(0);
  });
});

describe("the loss rate of a product", () => {
  it("is that of its one batch, with Wilson's spread", () => {
    const rate = lossRate([{ pressed: 20, lost: 0 }]);
    expect(rate).toMatchObject({ share: 0, low: 0, batches: 1, pressed: 20, lost: 0 });
    // z^2 / (n + z^2) with z = 1.6449: 2.7055 / 22.7055
    expect(rate?.high).toBeCloseTo(0.11916, 5);
  });

  it("counts older batches less; worked by hand", () => {
    // Ten batches between them, each without a piece, are not possible, so two of 40: weights 1 and 2^(-1/10) = 0.93303.
    // (1 x 4 + 0.93303 x 0) / (40 x 1.93303) = 0.051732
    expect(
      lossRate([
        { pressed: 40, lost: 4 },
        { pressed: 40, lost: 0 },
      ])?.share,
    ).toBeCloseTo(0.051732, 6);
    expect(
      lossRate([
        { pressed: 40, lost: 0 },
        { pressed: 40, lost: 4 },
      ])?.share,
    ).toBeCloseTo(0.048268, 6);
  });

  it("is less sure where one batch failed as a whole than where every batch lost a little", () => {
    const even = lossRate(Array.from({ length: 10 }, () => ({ pressed: 30, lost: 3 })));
    const uneven = lossRate(
      Array.from({ length: 10 }, (_, at) => ({ pressed: 30, lost: at === 4 ? 30 : 0 })),
    );
    expect(uneven?.share).toBeCloseTo(0.1, 1);
    const width = (rate: typeof even) => (rate?.high ?? 0) - (rate?.low ?? 0);
    expect(width(uneven)).toBeGreaterThan(2.5 * width(even));
  });

  it("is surer with more of the same", () => {
    const high = (batches: number) =>
      lossRate(Array.from({ length: batches }, () => ({ pressed: 50, lost: 5 })))?.high ?? 0;
    expect(high(6)).toBeLessThan(high(3));
    expect(high(3)).toBeLessThan(high(1));
  });

  it("lies within its spread, never outside 0 and 1", () => {
    const batch = fc
      .tuple(fc.integer({ min: 1, max: 200 }), fc.double({ min: 0, max: 1, noNaN: true }))
      .map(([pressed, part]) => ({ pressed, lost: Math.round(pressed * part) }));
    fc.assert(
      fc.property(fc.array(batch, { minLength: 1, maxLength: 40 }), (batches) => {
        const rate = lossRate(batches);
        if (rate === null) throw new Error("there are batches");
        expect(rate.low).toBeLessThanOrEqual(rate.share + 1e-12);
        expect(rate.high).toBeGreaterThanOrEqual(rate.share - 1e-12);
        expect(rate.low).toBeGreaterThanOrEqual(0);
        expect(rate.high).toBeLessThanOrEqual(1);
      }),
      { numRuns: 200 },
    );
  });

  it("is not known without a batch", () => {
    expect(lossRate([])).toBeNull();
  });
});

describe("the average of what batches took", () => {
  it("has Student's spread; worked by hand for three of nearly equal weight", () => {
    // Equal values have no spread at all.
    expect(meanOf([48, 48, 48].map((value) => ({ value, pieces: 10 })))).toMatchObject({
      ...{ mean: 48, batches: 3 },
    });
    // Two batches of one age would be 50 and 60: mean 55, s = 7.071, t(0.95, 1) x s / sqrt 2 = 6.314 x 5 = 31.57. With
    // weights 1 and 0.93303 they are worth 1.99760: mean (50 + 0.93303 x 60) / 1.93303 = 54.8268.
    const two = meanOf([
      { value: 50, pieces: 10 },
      { value: 60, pieces: 10 },
    ]);
    expect(two?.mean).toBeCloseTo(54.8268, 4);
    expect((two?.high ?? 0) - 54.8268).toBeGreaterThan(31.5);
    expect((two?.high ?? 0) - 54.8268).toBeLessThan(32.2);
  });

  it("counts a batch of twice the pieces twice as much", () => {
    const mean = meanOf([
      { value: 10, pieces: 20 },
      { value: 40, pieces: 20 * 2 ** 0.1 },
    ])?.mean;
    expect(mean).toBeCloseTo(25, 9);
  });

  it("is not known from fewer than two batches", () => {
    expect(meanOf([{ value: 50, pieces: 10 }])).toBeNull();
    expect(meanOf([])).toBeNull();
  });
});

describe("what is pressed for what is wanted", () => {
  it("is enough, and no piece more; worked by hand", () => {
    expect([pressFor(36, 500), goodOf(38, 500), goodOf(37, 500)]).toEqual([38, 36, 35]);
    expect(pressFor(36, 0)).toBe(36);
    // Binary fractions would make 0.9 x 10 a little less than 9.
    expect([goodOf(10, 1_000), pressFor(9, 1_000)]).toEqual([9, 10]);
  });

  it("for any number and any rate", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), fc.integer({ min: 0, max: 5_000 }), (good, loss) => {
        const pressed = pressFor(good, loss);
        expect(goodOf(pressed, loss)).toBeGreaterThanOrEqual(good);
        expect(goodOf(pressed - 1, loss)).toBeLessThan(good);
      }),
    );
  });
});
