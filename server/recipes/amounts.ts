import { ok, type Result, refuse } from "../basics/result.ts";

/*
 * Amounts as a maker writes them, as exact weights. Every factor is a finite decimal, so nothing is rounded here: a
 * weight is counted in attograms (1 g = 10^18), which holds the smallest step of every unit times every density.
 */

export const massUnits = ["g", "kg", "oz", "lb"] as const;
export const volumeUnits = ["ml", "fl-oz-us", "fl-oz-imperial", "tsp"] as const;
export const amountUnits = [...massUnits, ...volumeUnits, "percent"] as const;

export type MassUnit = (typeof massUnits)[number];
type VolumeUnit = (typeof volumeUnits)[number];
export type AmountUnit = (typeof amountUnits)[number];

/** So much of a unit, in thousandths of it: 4.505 g is 4505 of "g". */
export interface Amount<Unit extends AmountUnit = AmountUnit> {
  readonly thousandths: number;
  readonly unit: Unit;
}

export type Attograms = bigint;

const ATTOGRAMS_IN_A_MILLIGRAM = 10n ** 15n;

/**
 * A thousandth of each unit of mass. The avoirdupois pound is 453.592 37 g and the ounce a sixteenth of it, exactly
 * (NIST Handbook 44, Appendix C).
 */
const THOUSANDTH_IN_ATTOGRAMS: Readonly<Record<MassUnit, Attograms>> = {
  g: 10n ** 15n,
  kg: 10n ** 18n,
  oz: 28_349_523_125_000_000n,
  lb: 453_592_370_000_000_000n,
};

/**
 * A thousandth of each unit of volume, in 10^-12 ml, which weighs an attogram for each gram per litre. The US gallon is
 * 231 cubic inches: the fluid ounce, a 128th of it, is 29.573 529 562 5 ml and the teaspoon a sixth of that, exactly
 * (NIST Handbook 44, Appendix C). The imperial gallon is 4.546 09 l, its fluid ounce a 160th (UK Weights and Measures
 * Act 1985, schedule 1; from memory).
 */
const THOUSANDTH_BY_DENSITY: Readonly<Record<VolumeUnit, bigint>> = {
  ml: 10n ** 12n,
  "fl-oz-us": 29_573_529_562_500n,
  "fl-oz-imperial": 28_413_062_500_000n,
  tsp: 4_928_921_593_750n,
};

export function isMassUnit(unit: AmountUnit): unit is MassUnit {
  return unit in THOUSANDTH_IN_ATTOGRAMS;
}

/** Whether a maker who asks in this unit reads weights in ounces. */
export function isOunces(unit: MassUnit): boolean {
  return unit === "oz" || unit === "lb";
}

function isVolumeUnit(unit: AmountUnit): unit is VolumeUnit {
  return unit in THOUSANDTH_BY_DENSITY;
}

/** The exact weight of an amount of mass. */
export function massOf({ thousandths, unit }: Amount<MassUnit>): Attograms {
  return BigInt(thousandths) * THOUSANDTH_IN_ATTOGRAMS[unit];
}

/**
 * The exact weight of an amount; a volume is weighed by the ingredient's own density and refused without one. A share
 * has no weight until the whole is known: null.
 *
 * @param densityGramsPerLitre of the ingredient; null: not known
 */
export function weightOf(
  { thousandths, unit }: Amount,
  densityGramsPerLitre: number | null,
): Result<Attograms | null, "density-unknown"> {
  if (isMassUnit(unit)) return ok(massOf({ thousandths, unit }));
  if (!isVolumeUnit(unit)) return ok(null);
  if (densityGramsPerLitre === null) return refuse("density-unknown");
  return ok(BigInt(thousandths) * THOUSANDTH_BY_DENSITY[unit] * BigInt(densityGramsPerLitre));
}

/** To the nearest whole milligram, a half upwards. */
export function toMilligrams(weight: Attograms): number {
  return Number((2n * weight + ATTOGRAMS_IN_A_MILLIGRAM) / (2n * ATTOGRAMS_IN_A_MILLIGRAM));
}
