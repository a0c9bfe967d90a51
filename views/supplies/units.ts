import type { SupplyUnit } from "../../server/supplies/amounts.ts";
import type { SupplyKind } from "../../server/supplies/kinds.ts";
import { isPackagingKind } from "./supplyWords.ts";

const mass: readonly SupplyUnit[] = ["kg", "g", "lb", "oz"];
const volume: readonly SupplyUnit[] = ["ml", "fl-oz-us", "fl-oz-imperial", "tsp"];

/** The units a supply is offered in; volumes only where its density is known. */
export function unitsFor(kind: SupplyKind, densityKnown: boolean): readonly SupplyUnit[] {
  if (isPackagingKind(kind)) return ["piece"];
  return densityKnown ? [...mass, ...volume] : mass;
}
