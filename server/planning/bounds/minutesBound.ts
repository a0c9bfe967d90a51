import type { Instance } from "../search/instance.ts";

/**
 * Hand ticks that no plan serving every order in full can go below: each piece that is neither in stock nor drying at
 * its least work, the fewest bowls for each blend, and one clean-down for each blend that has to be mixed.
 */
export function leastTicksToServeAll(instance: Instance): number {
  const needed = new Float64Array(instance.products);
  for (let line = 0; line < instance.lines; line++) {
    needed[instance.lineProduct[line]!]! += instance.lineUnits[line]!;
  }
  let ticks = 0;
  for (let blend = 0; blend < instance.blends; blend++) {
    let grams = 0;
    let pieces = 0;
    for (let at = instance.firstProduct[blend]!; at < instance.firstProduct[blend + 1]!; at++) {
      const product = instance.productsOfBlend[at]!;
      const toMake = Math.max(0, needed[product]! - readyUnits(instance, product));
      if (toMake === 0) continue;
      pieces += toMake;
      grams += toMake * instance.weightOf[product]!;
      ticks += toMake * leastPieceTicks(instance, instance.shapeOf[product]!);
    }
    if (pieces === 0) continue;
    ticks += instance.cleanTicks + Math.max(1, Math.ceil(grams / instance.bowlGrams)) * instance.mixTicks;
  }
  return ticks;
}

function readyUnits(instance: Instance, product: number): number {
  let units = 0;
  for (let ready = instance.firstReady[product]!; ready < instance.firstReady[product + 1]!; ready++) {
    units += instance.readyUnits[ready]!;
  }
  return units;
}

function leastPieceTicks(instance: Instance, shape: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let session = 0; session < instance.sessions; session++) {
    const cell = shape * instance.sessions + session;
    if (instance.pack[cell]! >= 0) least = Math.min(least, instance.pieceTicks[cell]!);
  }
  return least === Number.POSITIVE_INFINITY ? 0 : least;
}
