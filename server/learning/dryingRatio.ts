import { recencyWeights, sumOf } from "./weights.ts";
import type { Spread } from "./wilson.ts";

/** What was seen of a lot's drying: not when it was dry, but between which two looks it became so. */
export interface DryingSeen {
  /** Minutes the formula gives for its mold time. */
  readonly expectedMinutes: number;
  /** Minutes after pressing at which it was last found damp; 0 where nobody found it so. */
  readonly dampAfter: number;
  /** Minutes after pressing at which it was found dry and left its molds. */
  readonly dryAfter: number;
}

/** How drying compares with the formula, and what that rests on. */
export interface DryingRatio extends Spread {
  readonly ratio: number;
  readonly batches: number;
  /** Of these found damp at least once before. */
  readonly foundDamp: number;
}

/** How much single lots differ from the workshop's own ratio, and how far that is believed from 1 before any is seen: standard deviations of logarithms; our judgement. */
const LOT_SPREAD = 0.15;
const PRIOR_SPREAD = 0.35;
/** A look in a hundred was written down for another lot or at another time; our judgement. */
const MISTAKEN = 0.01;

const GRID_STEP = 0.005;
const GRID_STEPS = 360;

/**
 * How many times as long as the formula says drying really takes here. The time a lot is dry at is never seen, only that
 * it lies between two looks, and a lot that waited for the morning tells next to nothing: so the looks themselves are
 * weighed, by a log-normal model of interval-censored times (an accelerated failure time model: Kalbfleisch and Prentice,
 * The Statistical Analysis of Failure Time Data, 2nd edition 2002, chapter 3; from memory), newer lots more than older
 * ones, with a prior around 1. The answer is the median of what is then believed, and where nine tenths of it lie.
 *
 * @param lots the newest first
 * @returns null without a lot.
 */
export function dryingRatio(lots: readonly DryingSeen[]): DryingRatio | null {
  if (lots.length === 0) return null;
  const weights = recencyWeights(lots.length);
  const grid = Array.from({ length: 2 * GRID_STEPS + 1 }, (_, at) => (at - GRID_STEPS) * GRID_STEP);
  const beliefs = grid.map((log) => {
    const prior = -0.5 * (log / PRIOR_SPREAD) ** 2;
    return prior + sumOf(lots, (lot, place) => (weights[place] ?? 0) * Math.log(chanceOf(lot, log)));
  });
  const greatest = Math.max(...beliefs);
  const shares = beliefs.map((belief) => Math.exp(belief - greatest));
  return {
    ratio: Math.exp(quantileOf(grid, shares, 0.5)),
    low: Math.exp(quantileOf(grid, shares, 0.05)),
    high: Math.exp(quantileOf(grid, shares, 0.95)),
    batches: lots.length,
    foundDamp: lots.filter(({ dampAfter }) => dampAfter > 0).length,
  };
}

/** The chance that a lot becomes dry between its two looks. */
function chanceOf({ expectedMinutes, dampAfter, dryAfter }: DryingSeen, log: number): number {
  const below = (minutes: number) =>
    minutes <= 0 ? 0 : normalBelow((Math.log(minutes / expectedMinutes) - log) / LOT_SPREAD);
  return MISTAKEN + (1 - MISTAKEN) * Math.max(0, below(dryAfter) - below(dampAfter));
}

/** Where so much of the belief lies below; between two points of the grid as on a line. */
function quantileOf(grid: readonly number[], shares: readonly number[], part: number): number {
  const wanted = part * sumOf(shares, (share) => share);
  let below = 0;
  for (const [place, share] of shares.entries()) {
    if (below + share >= wanted) return (grid[place] ?? 0) + GRID_STEP * ((wanted - below) / share - 0.5);
    below += share;
  }
  return grid.at(-1) ?? 0;
}

/** The normal distribution, to 8 in a hundred million (Abramowitz and Stegun, 26.2.17). */
export function normalBelow(deviate: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(deviate));
  const series =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = (Math.exp(-0.5 * deviate * deviate) / Math.sqrt(2 * Math.PI)) * series;
  return deviate < 0 ? tail : 1 - tail;
}
