import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  believe,
  demandOf,
  FAMILY_SHAPE,
  likeliestSteadiness,
  meanOf,
  plainMean,
  type Showing,
} from "../../server/markets/demand.ts";
import { leastCovering } from "../../server/markets/newsvendor.ts";

const sold = (soldUnits: number): Showing => ({ soldUnits, soldOut: null });
const soldOut = (soldUnits: number, share: number | null = null): Showing => ({
  soldUnits,
  soldOut: { share },
});
/** As good as a Poisson demand, for which the sums are known in closed form. */
const STEADY = 1e9;

describe("what is believed of a product", () => {
  it("is the gamma distribution that Poisson counts make of a gamma one (the conjugate pair of any textbook of Bayesian statistics)", () => {
    // Prior: shape 4, mean 20, so rate 1/5. Three counts of 70 in all: shape 74, rate 16/5, mean 23.125.
    const belief = believe([sold(20), sold(24), sold(26)], 20, STEADY);
    expect(meanOf(belief)).toBeCloseTo((FAMILY_SHAPE + 70) / (FAMILY_SHAPE / 20 + 3), 3);
    const variance =
      belief.means.reduce((sum, mean, place) => sum + mean ** 2 * (belief.chances[place] ?? 0), 0) -
      meanOf(belief) ** 2;
    expect(variance).toBeCloseTo((FAMILY_SHAPE + 70) / (FAMILY_SHAPE / 20 + 3) ** 2, 2);
  });

  it("counts a sell-out at three quarters of the day as three quarters of a market", () => {
    // 30 in 0.75 of a market: shape 34, rate 0.2 + 0.75.
    expect(meanOf(believe([soldOut(30, 0.75)], 20, STEADY))).toBeCloseTo(34 / 0.95, 3);
  });

  it("never makes more than twice of a sell-out, however early it was", () => {
    expect(meanOf(believe([soldOut(30, 0.02)], 20, STEADY))).toBeCloseTo(34 / 0.7, 3);
  });

  it("counts a sell-out nobody timed with the chance of at least so many", () => {
    // Likelihood of at least one: 1 - exp(-m). The mean under it has a closed form with shape 4 and rate 1:
    // (E[m] - E[m exp(-m)]) / (1 - E[exp(-m)]) = (4 - 4/2^5) / (1 - 1/2^4).
    expect(meanOf(believe([soldOut(1)], FAMILY_SHAPE, STEADY))).toBeCloseTo((4 - 4 / 32) / (1 - 1 / 16), 3);
  });

  it("stays with its family while nothing was seen", () => {
    expect(meanOf(believe([], 20, 8))).toBeCloseTo(20, 3);
  });

  it("is moved up and never down by a sell-out, compared with as many that were enough", () => {
    const counts = fc.integer({ min: 1, max: 60 });
    fc.assert(
      fc.property(counts, fc.array(counts, { maxLength: 4 }), counts, (count, others, family) => {
        const rest = others.map(sold);
        const enough = meanOf(believe([...rest, sold(count)], family, 8));
        expect(meanOf(believe([...rest, soldOut(count)], family, 8))).toBeGreaterThan(enough);
        expect(meanOf(believe([...rest, soldOut(count, 1)], family, 8))).toBeCloseTo(enough, 9);
        expect(meanOf(believe([...rest, soldOut(count, 0.6)], family, 8))).toBeGreaterThan(enough);
      }),
      { numRuns: 25, seed: 20_270_301 },
    );
  });

  it("holds out against counts far beyond anything that was seen before", () => {
    const belief = believe([soldOut(4000), sold(0)], 0, 8);
    expect(belief.chances.every(Number.isFinite)).toBe(true);
    expect(belief.chances.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 9);
  });
});

describe("the demand of the next market", () => {
  it("is negative binomial when the mean is Poisson's and gamma spread", () => {
    // A gamma mean of shape 4 and mean 20 makes a negative binomial count: none has the chance (1/(1+5))^4.
    const demand = demandOf(believe([], 20, STEADY), STEADY, 10_000);
    expect(demand[0]).toBeCloseTo(6 ** -4, 5);
    expect(demand.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 5);
    const mean = demand.reduce((sum, chance, units) => sum + chance * units, 0);
    expect(mean).toBeCloseTo(20, 1);
    const variance = demand.reduce((sum, chance, units) => sum + chance * (units - mean) ** 2, 0);
    expect(variance / (20 + 20 ** 2 / 4)).toBeCloseTo(1, 2);
  });
});

describe("how steady markets are", () => {
  it("is the usual while nothing was shown twice", () => {
    expect(likeliestSteadiness([[sold(5)], [sold(80)], []])).toBe(8);
  });

  it("is learned from how much the same product sold from one market to the next", () => {
    const even = Array.from({ length: 12 }, () => [sold(19), sold(20), sold(21), sold(20)]);
    const wild = Array.from({ length: 12 }, () => [sold(2), sold(55), sold(9), sold(14)]);
    expect(likeliestSteadiness(even)).toBeGreaterThan(8);
    expect(likeliestSteadiness(wild)).toBeLessThan(8);
  });
});

describe("learning from sell-outs", () => {
  it("finds the demand behind them where plain averages stay below it", () => {
    const dice = diceFrom(7);
    const bag = Array.from({ length: 200 }, () => poissonThrow(dice, 30));
    // 28 taken each time: more than half of the markets sell out.
    const showings = bag.map((demand) => (demand >= 28 ? soldOut(28) : sold(demand)));
    expect(plainMean(showings)).toBeLessThan(27.5);
    const learned = believe(showings, 28, STEADY);
    expect(Math.abs(meanOf(learned) - 30)).toBeLessThan(1);
    // Poisson of mean 30 is covered with 80 % by 35 pieces; taking what mostly sold would be 28.
    expect(Math.abs(leastCovering(demandOf(learned, STEADY, 10_000), 0.8) - 35)).toBeLessThanOrEqual(1);
  });

  it("agrees with the product-limit estimate (Kaplan and Meier 1958) where that one can see", () => {
    const dice = diceFrom(11);
    const showings = Array.from({ length: 250 }, () => {
      const demand = poissonThrow(dice, 20);
      const taken = 14 + dice(14);
      return demand >= taken ? soldOut(taken) : sold(demand);
    });
    const model = demandOf(believe(showings, 20, STEADY), STEADY, 10_000);
    const beyond = (units: number) => model.slice(units + 1).reduce((sum, chance) => sum + chance, 0);
    for (const units of [14, 17, 20, 23])
      expect(Math.abs(productLimit(showings, units) - beyond(units))).toBeLessThan(0.06);
  });
});

/** The chance of a demand of more than so many: after each count, of those still in sight, the share that went on. */
function productLimit(showings: readonly Showing[], units: number): number {
  let beyond = 1;
  for (let at = 0; at <= units; at += 1) {
    // A sell-out at a count was in sight below it only: its demand may have been that count itself.
    const inSight = showings.filter((one) => one.soldUnits > at || (one.soldUnits === at && !one.soldOut));
    const ended = inSight.filter((one) => one.soldUnits === at);
    if (inSight.length > 0) beyond *= 1 - ended.length / inSight.length;
  }
  return beyond;
}

function poissonThrow(dice: (sides: number) => number, mean: number): number {
  // Knuth, The Art of Computer Programming 2, 3.4.1: uniform throws are multiplied until they fall below exp(-mean).
  let product = 1;
  for (let count = -1; ; count += 1) {
    product *= (dice(2 ** 30) + 1) / 2 ** 30;
    if (product < Math.exp(-mean)) return count + 1;
  }
}

/** The same throws in every run (a linear congruential generator, Numerical Recipes, second edition, 7.1). */
function diceFrom(seed: number): (sides: number) => number {
  let state = seed >>> 0;
  return (sides) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * sides);
  };
}
