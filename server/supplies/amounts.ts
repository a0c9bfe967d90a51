import { ok, type Result, refuse } from "../basics/result.ts";
import { massUnits, toMilligrams, volumeUnits, weightOf } from "../recipes/amounts.ts";
import { isPackaging, type SupplyKind } from "./kinds.ts";

/*
 * An amount of a supply is one whole number: milligrams of what goes into a bowl, pieces of what is packed with. What
 * a maker types, in whatever unit or pack, becomes that number once, here.
 */

export const supplyUnits = [...massUnits, ...volumeUnits, "piece"] as const;
export type SupplyUnit = (typeof supplyUnits)[number];

/** So much of a unit, in thousandths of it. */
export interface WrittenAmount {
  readonly thousandths: number;
  readonly unit: SupplyUnit;
}

/** What has to be known of a supply to weigh what was written. */
export interface Measured {
  readonly kind: SupplyKind;
  readonly densityGramsPerLitre: number | null;
}

/** A thousand tons, or as many pieces as milligrams in them: more is a slip of the finger. */
export const MOST_AMOUNT = 1_000_000_000_000;

export type AmountRefusal =
  /** A volume of something whose density nobody entered. */
  | "density-unknown"
  /** Pieces of a powder, or grams of cups. */
  | "wrong-unit"
  /** Part of a piece. */
  | "part-of-a-piece"
  /** It comes to nothing, or to more than anything here may. */
  | "out-of-range";

/** Units a supply may be written in: cups are counted, everything else is weighed or, by its density, measured. */
export function unitsOf(supply: Measured): readonly SupplyUnit[] {
  if (isPackaging(supply.kind)) return ["piece"];
  return supply.densityGramsPerLitre === null ? massUnits : [...massUnits, ...volumeUnits];
}

/** `times` times what was written: to the nearest milligram, a half upwards, or in whole pieces. */
export function supplyAmountOf(
  { thousandths, unit }: WrittenAmount,
  supply: Measured,
  times = 1,
): Result<number, AmountRefusal> {
  if (isPackaging(supply.kind) !== (unit === "piece")) return refuse("wrong-unit");
  const read =
    unit === "piece" ? inPieces(thousandths * times) : inMilligrams({ thousandths, unit }, supply, times);
  if (!read.ok) return read;
  return read.value > 0 && read.value <= MOST_AMOUNT ? read : refuse("out-of-range");
}

/** What was counted or lost, in thousandths of a gram or of a piece: a thousandth of a gram is the milligram. */
export function countedAmount(thousandths: number, kind: SupplyKind): Result<number, "part-of-a-piece"> {
  if (!isPackaging(kind)) return ok(thousandths);
  return thousandths % 1000 === 0 ? ok(thousandths / 1000) : refuse("part-of-a-piece");
}

function inPieces(thousandths: number): Result<number, AmountRefusal> {
  return thousandths % 1000 === 0 ? ok(thousandths / 1000) : refuse("part-of-a-piece");
}

function inMilligrams(
  written: { readonly thousandths: number; readonly unit: Exclude<SupplyUnit, "piece"> },
  { densityGramsPerLitre }: Measured,
  times: number,
): Result<number, AmountRefusal> {
  const weight = weightOf(written, densityGramsPerLitre);
  if (!weight.ok) return weight;
  return ok(toMilligrams((weight.value ?? 0n) * BigInt(times)));
}
