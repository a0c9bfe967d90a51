import { asReadyTerms, completeTerms, type Instance, marketDays } from "../search/instance.ts";

/** Fractions of a unit in which weights may be given for their costs to be counted whole. */
const wholeParts = [1, 2, 4, 5, 8, 10, 20, 25, 50, 100];

/**
 * Largest amount all lateness costs are whole multiples of, in unit-days, where the weights have few decimals; else 0. A
 * complete order counts a day for all its units at once, one that is sent as it gets ready for each of them, and a
 * market some days for each unit it does not get.
 */
export function costGranule({ orders, orderTerms, orderWeight, orderUnits }: Instance): number {
  const isWhole = (value: number) => Math.abs(value - Math.round(value)) < 1e-9;
  const parts = wholeParts.find((each) => orderWeight.every((weight) => isWhole(weight * each)));
  if (parts === undefined) return 0;
  let granule = 0;
  for (let order = 0; order < orders; order++) {
    const terms = orderTerms[order]!;
    const atOnce = terms === completeTerms ? orderUnits[order]! : terms === asReadyTerms ? 1 : marketDays;
    granule = greatestCommonDivisor(granule, Math.round(orderWeight[order]! * parts) * atOnce);
  }
  return granule / parts;
}

function greatestCommonDivisor(one: number, other: number): number {
  return other === 0 ? one : greatestCommonDivisor(other, one % other);
}

/** Costs come in whole granules, so a bound just above one granule is worth the next. Never below 0. */
export function roundedUp(bound: number, granule: number): number {
  const safe = bound - 1e-7 * Math.max(1, Math.abs(bound));
  return Math.max(0, granule === 0 ? safe : Math.ceil(safe / granule - 1e-9) * granule);
}
