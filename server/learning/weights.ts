/** After so many batches more, one counts half. */
export const HALF_LIFE_BATCHES = 10;

/**
 * How much batches count, the newest first: each a little less than the one after it, so that what is learned follows a
 * workshop that changes. 1 for the newest, a half for the one ten batches before it.
 */
export function recencyWeights(count: number): readonly number[] {
  return Array.from({ length: count }, (_, age) => 2 ** (-age / HALF_LIFE_BATCHES));
}

/**
 * As how many equally counting ones unequal weights are worth: (sum of w)^2 / (sum of w^2), between 1 and their number
 * (Kish, Survey Sampling, 1965, section 11.7; from memory). 0 for none.
 */
export function effectiveSize(weights: readonly number[]): number {
  const squares = sumOf(weights, (weight) => weight * weight);
  return squares === 0 ? 0 : sumOf(weights, (weight) => weight) ** 2 / squares;
}

/** The sum of what each gives, with its place. */
export function sumOf<Item>(items: readonly Item[], amount: (item: Item, place: number) => number): number {
  return items.reduce((sum, item, place) => sum + amount(item, place), 0);
}
