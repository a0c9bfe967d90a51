import { afterIterations, type Stop } from "../planning/stop.ts";

/** Ends after a number of iterations, or early when the given stop does. */
export function afterEffort(iterations: number, end: Stop): Stop {
  const count = afterIterations(iterations);
  return { progress: (done) => (end.progress(done) >= 1 ? 1 : count.progress(done)) };
}
