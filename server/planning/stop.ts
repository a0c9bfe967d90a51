/**
 * When a search ends. The engine has no clock: a caller that wants a wall-clock limit or a cancel button passes an
 * object that answers from its own clock.
 */
export interface Stop {
  /**
   * Share of the search that is over, 0 to 1, after so many iterations; 1 or more ends it. Asked often, and must
   * never fall.
   */
  progress(iterations: number): number;
}

/** Ends after a number of iterations: the same answer on every machine. */
export function afterIterations(most: number): Stop {
  return { progress: (iterations) => (most <= 0 ? 1 : iterations / most) };
}
