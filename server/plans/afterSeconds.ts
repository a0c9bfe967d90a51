import type { Stop } from "../planning/stop.ts";

export interface TimedStop extends Stop {
  isOver(): boolean;
  /** How fast the search was that this stop ended; 0 before it began. */
  iterationsASecond(): number;
}

/** The engine has no clock; this is the only stop made of wall-clock time, or of the clock given, in milliseconds. */
export function afterSeconds(seconds: number, clock: () => number = () => performance.now()): TimedStop {
  const from = clock();
  let reached = { iterations: 0, seconds: 0, progress: 0 };
  return {
    progress(iterations) {
      const passed = (clock() - from) / 1000;
      reached = { iterations, seconds: passed, progress: seconds <= 0 ? 1 : passed / seconds };
      return reached.progress;
    },
    isOver: () => reached.progress >= 1,
    iterationsASecond: () => (reached.seconds > 0 ? reached.iterations / reached.seconds : 0),
  };
}
