import type { Instance } from "../search/instance.ts";

/** Largest amount all lateness costs are whole multiples of, where the weights have few decimals; else 0. */
export function costGranule(instance: Instance): number {
  for (const parts of [1, 2, 4, 5, 8, 10, 20, 25, 50, 100]) {
    const isWhole = (weight: number) => Math.abs(weight * parts - Math.round(weight * parts)) < 1e-9;
    if (instance.orderWeight.every(isWhole)) return 1 / parts;
  }
  return 0;
}

/** Costs come in whole granules, so a bound just above one granule is worth the next. Never below 0. */
export function roundedUp(bound: number, granule: number): number {
  const safe = bound - 1e-7 * Math.max(1, Math.abs(bound));
  return Math.max(0, granule === 0 ? safe : Math.ceil(safe / granule - 1e-9) * granule);
}
