import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { criticalRatio, expectationOf, leastCovering } from "../../server/markets/newsvendor.ts";

/** A normal distribution in steps of 1/`steps`, cut off below nothing. */
function normal(mean: number, deviation: number, steps: number): readonly number[] {
  const length = Math.ceil((mean + 9 * deviation) * steps);
  const heights = Array.from({ length }, (_, place) =>
    Math.exp(-0.5 * ((place / steps - mean) / deviation) ** 2),
  );
  return inShares(heights);
}

function poisson(mean: number): readonly number[] {
  const chances = [Math.exp(-mean)];
  for (let units = 1; units < mean * 6 + 30; units += 1) chances.push(((chances.at(-1) ?? 0) * mean) / units);
  return chances;
}

function inShares(heights: readonly number[]): readonly number[] {
  const whole = heights.reduce((sum, height) => sum + height, 0);
  return heights.map((height) => height / whole);
}

/** What taking so many costs on average. */
function costOf(distribution: readonly number[], taken: number, missed: number, leftOver: number): number {
  const expected = expectationOf(distribution, taken);
  return missed * expected.missedUnits + leftOver * expected.homeUnits;
}

describe("the newsvendor's answer, against published examples", () => {
  it("is 56.604 for a normal demand of 50 and 8 (Snyder and Shen, Fundamentals of Supply Chain Theory, example 4.3)", () => {
    const demand = normal(50, 8, 200);
    const ratio = criticalRatio(0.7, 0.18);
    const taken = leastCovering(demand, ratio);
    expect(taken / 200).toBeCloseTo(56.604, 2);
    expect(costOf(demand, taken, 0.7, 0.18) / 200).toBeCloseTo(1.9976, 3);
    expect(costOf(demand, 8000, 0.7, 0.18) / 200).toBeCloseTo(7.3561, 3);
  });

  it("is 8 for a Poisson demand of 6 (the same, example 4.7)", () => {
    expect(leastCovering(poisson(6), criticalRatio(4, 1))).toBe(8);
    expect(costOf(poisson(6), 8, 4, 1)).toBeCloseTo(3.5701, 4);
  });

  it("is 19 for a Poisson demand of 18 (the same, problem 4.8a)", () => {
    expect(leastCovering(poisson(18), criticalRatio(270, 200))).toBe(19);
    expect(costOf(poisson(18), 19, 270, 200)).toBeCloseTo(786.088, 2);
  });

  it("counts what a left-over is still worth: 9579.1 for 10 bought, 15 sold, 3 left (Brandimarte)", () => {
    const ratio = criticalRatio(15 - 10, 10 - 3);
    expect(ratio).toBeCloseTo(5 / 12, 12);
    expect(leastCovering(normal(10_000, 2000, 2), ratio) / 2).toBeCloseTo(9579.1, 0);
  });

  it("is 108 for a uniform demand and 111.20 and 113.73 for normal ones (a textbook's exercise)", () => {
    const ratio = criticalRatio(20 - 14, 14 - 5);
    expect(ratio).toBeCloseTo(0.4, 12);
    const uniform = inShares(Array.from({ length: 15_001 }, (_, place) => (place < 8000 ? 0 : 1)));
    expect(leastCovering(uniform, ratio) / 100).toBeCloseTo(108, 1);
    expect(leastCovering(normal(115, 15, 100), ratio) / 100).toBeCloseTo(111.2, 1);
    expect(leastCovering(normal(115, 5, 100), ratio) / 100).toBeCloseTo(113.73, 1);
  });

  it("is less than the mean where a left-over hurts more than a missed sale: 68.68 (a textbook's exercise)", () => {
    const ratio = criticalRatio(60, 140 - 30);
    expect(ratio).toBeCloseTo(60 / 170, 12);
    // The part of this normal distribution below nothing is four thousandths, which the exercise leaves in.
    expect(Math.abs(leastCovering(normal(80, 30, 100), ratio) / 100 - 68.68)).toBeLessThan(0.2);
  });
});

describe("the newsvendor's answer, against trying every number", () => {
  it("earns as much as the best of all numbers, and is the least that does", () => {
    const demands = fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 1, maxLength: 25 });
    const amount = fc.integer({ min: 1, max: 500 });
    fc.assert(
      fc.property(demands, amount, amount, (weights, missed, leftOver) => {
        fc.pre(weights.some((weight) => weight > 0));
        const total = weights.reduce((sum, weight) => sum + weight, 0);
        // In whole numbers, so that equal profits are equal.
        const profit = (taken: number) =>
          weights.reduce((sum, weight, demand) => {
            const sold = Math.min(demand, taken);
            return sum + weight * (missed * sold - leftOver * (taken - sold));
          }, 0);
        const profits = Array.from({ length: weights.length + 1 }, (_, taken) => profit(taken));
        const best = profits.indexOf(Math.max(...profits));
        const answer = leastCovering(
          weights.map((weight) => weight / total),
          criticalRatio(missed, leftOver),
        );
        expect(answer).toBe(best);
      }),
      { numRuns: 200, seed: 20_270_301 },
    );
  });

  it("takes none of what earns nothing, and all that could be asked for of what loses nothing", () => {
    const demand = [0.5, 0.25, 0.25];
    expect(leastCovering(demand, criticalRatio(0, 100))).toBe(0);
    expect(leastCovering(demand, criticalRatio(-5, 100))).toBe(0);
    expect(leastCovering(demand, criticalRatio(100, 0))).toBe(2);
  });

  it("is the lesser of two numbers that earn alike", () => {
    // A second piece sells every other day: it wins as often as it loses as much.
    expect(leastCovering([0, 0.5, 0.5], criticalRatio(100, 100))).toBe(1);
  });

  it("expects what is sold, left and missed to add up", () => {
    // Demands of 0, 1 and 2 at one half, one quarter, one quarter; one taken: sold in half of all cases.
    expect(expectationOf([0.5, 0.25, 0.25], 1)).toEqual({
      soldUnits: 0.5,
      homeUnits: 0.5,
      missedUnits: 0.25,
    });
  });
});
