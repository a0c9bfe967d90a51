/** More than half lost is no rate to plan with but a fault to find. */
export const MOST_LOSS_BASIS_POINTS = 5_000;

/**
 * Pieces that are expected to be good in the end, of so many pressed.
 *
 * @param lossBasisPoints 0 to 5,000
 */
export function goodOf(pressed: number, lossBasisPoints: number): number {
  return Math.floor((pressed * (10_000 - lossBasisPoints)) / 10_000);
}

/** The fewest pieces to press so that so many are expected to be good: 36 at 5 % take 38, of which 36.1 are good. */
export function pressFor(good: number, lossBasisPoints: number): number {
  return Math.ceil((good * 10_000) / (10_000 - lossBasisPoints));
}
