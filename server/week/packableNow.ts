import type { OpenOrder } from "./weekFacts.ts";

/** How much of an order's remaining pieces stands ready on the shelf. */
export interface Packable {
  readonly order: OpenOrder;
  readonly units: number;
  /** Whether that is all that is still to be packed. */
  readonly whole: boolean;
}

/**
 * Deals the ready pieces out to the orders as they come, earliest ship-by first. An order that waits for more keeps
 * what it was dealt: its pieces are not promised to a later one.
 */
export function packableNow(
  orders: readonly OpenOrder[],
  free: ReadonlyMap<number, number>,
): readonly Packable[] {
  const left = new Map(free);
  return orders.map((order) => {
    let units = 0;
    let missing = 0;
    for (const line of order.toPack) {
      const there = left.get(line.productId) ?? 0;
      const dealt = Math.min(there, line.units);
      left.set(line.productId, there - dealt);
      units += dealt;
      missing += line.units - dealt;
    }
    return { order, units, whole: missing === 0 };
  });
}
