const MINUTE_MS = 60_000;

/** How long a shape dries, and how much longer than usual on the day it was formed. */
export interface Drying {
  readonly moldMinutes: number;
  readonly restMinutes: number;
  /** 1 on an ordinary day, more in damp air. */
  readonly dryingFactor: number;
}

/** Earliest times for a piece whose pressing ended at `formedAt`. */
export function dryingTimes(formedAt: Date, { moldMinutes, restMinutes, dryingFactor }: Drying) {
  const unmoldDueAt = later(formedAt, wholeMinutes(moldMinutes * dryingFactor));
  return { unmoldDueAt, readyDueAt: later(unmoldDueAt, wholeMinutes(restMinutes * dryingFactor)) };
}

/** Rest counts from when a piece really left its mold, and takes as long as it was going to take anyway. */
export function readyDueAfterUnmolding(
  lot: { readonly unmoldDueAt: Date; readonly readyDueAt: Date },
  unmoldedAt: Date,
): Date {
  return new Date(unmoldedAt.getTime() + lot.readyDueAt.getTime() - lot.unmoldDueAt.getTime());
}

/** Rounded up as the planner does, after taking off floating-point noise: 100 minutes times 1.1 are 110, not 111. */
function wholeMinutes(minutes: number): number {
  return Math.ceil(minutes - 1e-6);
}

function later(instant: Date, minutes: number): Date {
  return new Date(instant.getTime() + minutes * MINUTE_MS);
}
