import { median } from "../table.ts";
import type { PlanRun } from "../tasks.ts";

/** Seconds until there was a plan at all, the median over the searches. */
export function firstPlan(runs: readonly PlanRun[]): number {
  return median(runs.map(({ better }) => better[0]?.seconds ?? Number.NaN));
}
