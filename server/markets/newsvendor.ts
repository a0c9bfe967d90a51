/*
 * How many to take of what can be sold on one day only: the newsvendor's question. Distributions are lists: the chance
 * of a demand of 0, 1, 2 ... pieces; together they make 1.
 */

/**
 * The share of days on which the demand should be covered: what one piece too few costs, of that and what one too many
 * costs together (Arrow, Harris and Marschak 1951; any textbook of inventory theory). With nothing to win it is 0, with
 * nothing to lose 1.
 *
 * @param missed what a piece that could have been sold and was not there would have earned
 * @param leftOver what a piece that comes home has lost; in the same unit, not negative
 */
export function criticalRatio(missed: number, leftOver: number): number {
  if (missed <= 0) return 0;
  return missed / (missed + leftOver);
}

/** The least number of pieces that covers the demand with at least this chance; of a ratio of 0, none. */
export function leastCovering(distribution: readonly number[], ratio: number): number {
  if (ratio <= 0) return 0;
  let covered = 0;
  for (const [units, chance] of distribution.entries()) {
    covered += chance;
    if (covered >= ratio - ROUNDING) return units;
  }
  return Math.max(0, distribution.length - 1);
}

/** What sums of a few thousand doubles may be off by. */
const ROUNDING = 1e-12;

/** What is to be expected of taking so many: pieces sold, pieces that come home, pieces asked for in vain. */
export interface Expectation {
  readonly soldUnits: number;
  readonly homeUnits: number;
  readonly missedUnits: number;
}

export function expectationOf(distribution: readonly number[], takenUnits: number): Expectation {
  let soldUnits = 0;
  let missedUnits = 0;
  for (const [demand, chance] of distribution.entries()) {
    soldUnits += chance * Math.min(demand, takenUnits);
    missedUnits += chance * Math.max(0, demand - takenUnits);
  }
  return { soldUnits, homeUnits: takenUnits - soldUnits, missedUnits };
}
