/*
 * What customers of a stall would buy of a product in one market, had it never run out.
 *
 * A market has its own luck (weather, crowd): the rate at which pieces are asked for is drawn anew for each market, from a
 * gamma distribution around the product's mean; over the opening hours customers then come evenly. The demand of a
 * market is so negative binomial, the usual choice for counts that vary more than a Poisson count does, for lost sales
 * too (Agrawal and Smith, Naval Research Logistics 43, 1996; named from memory). What was sold out is never taken for
 * the demand: it is a count that was cut off, and counts with the chance of at least so many.
 *
 * A likelihood was chosen over the product-limit estimate of Kaplan and Meier (1958), because the latter says nothing
 * above the largest count that was not sold out, which is where the answer mostly lies, and needs more markets than a
 * stall has in a season.
 */

/** What one market showed of one product. */
export interface Showing {
  /** Pieces sold, at least 0; at least 1 where it sold out. */
  readonly soldUnits: number;
  /**
   * Null: it never ran out, so what was sold is what was asked for. Otherwise the share of the opening hours after which
   * the last one went, 0 to 1, or null in it where nobody looked at the clock.
   */
  readonly soldOut: { readonly share: number | null } | null;
}

/** What is believed of a product's mean demand: how likely each of a row of means is, together 1. */
interface Belief {
  readonly means: readonly number[];
  readonly chances: readonly number[];
}

/** How much products of a family differ: the gamma shape of their means. 4 is a spread of half the mean; our judgement. */
export const FAMILY_SHAPE = 4;

/** Whoever sells out early met a rush: the rest of the day is never reckoned busier than what was seen. Our judgement. */
const LEAST_SHARE = 0.5;

/** No family sells less than a piece in four markets, so that a product nobody wanted can be believed in again. */
const LEAST_MEAN = 0.25;

/** Means that are weighed: first far apart over all that is thinkable, then closely where the weight lies. */
const COARSE_MEANS = 64;
const FINE_MEANS = 80;
/** What weighs less than this (as a logarithm) against the likeliest mean is left out. */
const LEAST_WEIGHT = -25;

/**
 * What to believe of a product after its showings, when a family's mean was all that was known before: the weights of
 * a gamma prior times the likelihood, over a row of means.
 *
 * @param familyMean pieces a market, not negative
 * @param steadiness gamma shape of a market's luck: variance = mean + mean² / steadiness
 */
export function believe(showings: readonly Showing[], familyMean: number, steadiness: number): Belief {
  const centre = Math.max(familyMean, LEAST_MEAN);
  const weightOf = (mean: number) => {
    // One power more than the density has: the means stand evenly on a scale of ratios.
    const prior = FAMILY_SHAPE * (Math.log(mean) - mean / centre);
    return prior + likelihood(showings, mean, steadiness);
  };
  const means = closerRow(thinkableMeans(showings, centre), weightOf);
  const weights = means.map(weightOf);
  const greatest = Math.max(...weights);
  const shares = weights.map((weight) => Math.exp(weight - greatest));
  const whole = shares.reduce((sum, share) => sum + share, 0);
  return { means, chances: shares.map((share) => share / whole) };
}

/** The mean of a belief, in pieces a market. */
export function meanOf({ means, chances }: Belief): number {
  return means.reduce((sum, mean, place) => sum + mean * (chances[place] ?? 0), 0);
}

/** The chance of each number of pieces being asked for in the next market; all but a millionth of it. */
export function demandOf(belief: Belief, steadiness: number, mostUnits: number): readonly number[] {
  const most = Math.min(mostUnits, Math.ceil((belief.means.at(-1) ?? 0) * 8 + 40));
  const sums = new Float64Array(most + 1);
  for (const [place, mean] of belief.means.entries()) {
    const chance = belief.chances[place] ?? 0;
    if (chance < 1e-12) continue;
    let logged = logOfNone(mean, steadiness);
    for (let units = 0; units <= most; units += 1) {
      const here = chance * Math.exp(logged);
      sums[units] = (sums[units] ?? 0) + here;
      if (units > mean && here < 1e-15) break;
      logged += logOfNext(units, mean, steadiness);
    }
  }
  return [...sums.subarray(0, lengthOf(sums))];
}

/** Steadinesses that are tried, from markets that have nothing in common to those of one steady stream. */
const STEADINESSES = [1, 2, 4, 8, 16, 32, 64];
const USUAL_STEADINESS = 8;

/**
 * How steady markets are, learned from all products that were shown at least twice: the likeliest of a few, held near
 * the usual one as long as little is known.
 *
 * @param products the showings of each product
 */
export function likeliestSteadiness(products: readonly (readonly Showing[])[]): number {
  const telling = products.filter((showings) => showings.length > 1);
  const support = (steadiness: number) =>
    telling.reduce((sum, showings) => sum + evidence(showings, steadiness), 0) -
    Math.abs(Math.log2(steadiness / USUAL_STEADINESS));
  return STEADINESSES.reduce((best, next) => (support(next) > support(best) ? next : best), USUAL_STEADINESS);
}

/** What was sold a market when sell-outs are taken for the whole demand: too low, but never out of the air. */
export function plainMean(showings: readonly Showing[]): number {
  if (showings.length === 0) return 0;
  return showings.reduce((sum, { soldUnits }) => sum + soldUnits, 0) / showings.length;
}

function evidence(showings: readonly Showing[], steadiness: number): number {
  const centre = Math.max(plainMean(showings), LEAST_MEAN);
  const logged = thinkableMeans(showings, centre).map((mean) => likelihood(showings, mean, steadiness));
  const greatest = Math.max(...logged);
  return greatest + Math.log(logged.reduce((sum, one) => sum + Math.exp(one - greatest), 0) / COARSE_MEANS);
}

/** From far below to far above all that was seen or expected. */
function thinkableMeans(showings: readonly Showing[], centre: number): readonly number[] {
  const sold = showings.map(({ soldUnits }) => soldUnits);
  const least = Math.min(centre, ...sold.map((units) => Math.max(units, LEAST_MEAN))) / 60;
  return rowOfMeans(least, Math.max(centre, ...sold) * 8, COARSE_MEANS);
}

/** The part of a row that carries weight, walked in smaller steps. */
function closerRow(row: readonly number[], weightOf: (mean: number) => number): readonly number[] {
  const weights = row.map(weightOf);
  const enough = Math.max(...weights) + LEAST_WEIGHT;
  const first = weights.findIndex((weight) => weight > enough);
  const last = weights.findLastIndex((weight) => weight > enough);
  const from = row[Math.max(0, first - 1)] ?? LEAST_MEAN;
  return rowOfMeans(from, row[Math.min(row.length - 1, last + 1)] ?? from, FINE_MEANS);
}

/** Means from one to another, evenly on a scale of ratios. */
function rowOfMeans(least: number, most: number, count: number): readonly number[] {
  const step = Math.log(most / least) / (count - 1);
  return Array.from({ length: count }, (_, place) => least * Math.exp(step * place));
}

/** The logarithm of how likely the showings are, but for what depends on neither mean nor steadiness. */
function likelihood(showings: readonly Showing[], mean: number, steadiness: number): number {
  let logged = 0;
  for (const { soldUnits, soldOut } of showings) {
    if (soldOut?.share === null) logged += Math.log(chanceOfAtLeast(soldUnits, mean, steadiness));
    // So many in a share of the day: the same count with a share of the mean, as customers come evenly.
    else logged += logOfExactly(soldUnits, mean * Math.max(soldOut?.share ?? 1, LEAST_SHARE), steadiness);
  }
  return logged;
}

function logOfExactly(units: number, mean: number, steadiness: number): number {
  let logged = logOfNone(mean, steadiness);
  for (let below = 0; below < units; below += 1) logged += logOfNext(below, mean, steadiness);
  return logged;
}

function chanceOfAtLeast(units: number, mean: number, steadiness: number): number {
  let fewer = 0;
  let logged = logOfNone(mean, steadiness);
  for (let below = 0; below < units; below += 1) {
    fewer += Math.exp(logged);
    logged += logOfNext(below, mean, steadiness);
  }
  // Far out in the tail the next count stands for all beyond it, where 1 - fewer is only rounding.
  return Math.max(1 - fewer, Math.exp(logged), Number.MIN_VALUE);
}

function logOfNone(mean: number, steadiness: number): number {
  return -steadiness * Math.log1p(mean / steadiness);
}

/** What the logarithm of a count's chance grows by to the next count's. */
function logOfNext(units: number, mean: number, steadiness: number): number {
  return Math.log(((units + steadiness) / (units + 1)) * (mean / (mean + steadiness)));
}

/** Up to the count beyond which less than a millionth is left. */
function lengthOf(chances: Float64Array): number {
  let covered = 0;
  for (let units = 0; units < chances.length; units += 1) {
    covered += chances[units] ?? 0;
    if (covered >= 1 - 1e-6) return units + 1;
  }
  return chances.length;
}
