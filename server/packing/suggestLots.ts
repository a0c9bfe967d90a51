/**
 * Who gets which pieces. Every function here is pure; demands come in the order of the promises (ship-by,
 * reference, line), lots in the order they are to be used up (ready ones by the time they became ready, then
 * those still drying by the time they will be; then by id). First ready, first out is common practice, no source.
 */

/** Pieces an order line still wants. */
interface Demand {
  readonly orderId: number;
  readonly lineId: number;
  readonly productId: number;
  /** Ordered and not packed yet. */
  readonly left: number;
}

/** Pieces of a lot that nobody has packed. */
export interface ShelfLot {
  readonly id: number;
  readonly productId: number;
  readonly units: number;
  /** Null while it may be packed now; otherwise the earliest time it may be. */
  readonly readyDueAt: Date | null;
}

/** So many pieces of one lot. */
export interface Take {
  readonly lotId: number;
  readonly units: number;
}

/** What a line can count on once every earlier promise has had its part. */
export interface Share {
  /** Pieces on the shelf now. */
  readonly free: number;
  /** The lots these are of, first ready first: no two lines are told to take the same pieces. */
  readonly takes: readonly Take[];
  /** Pieces still drying or resting, first ready first. */
  readonly waiting: readonly (Take & { readonly readyDueAt: Date })[];
  /** Pieces that nothing on the shelf or the trays answers. */
  readonly missing: number;
}

/** Serves the demands in the order given, so that no later promise lives on the pieces of an earlier one. */
export function shareShelf(
  demands: readonly Demand[],
  lots: readonly ShelfLot[],
): ReadonlyMap<number, Share> {
  const remaining = new Map<number, { readonly lot: ShelfLot; units: number }[]>();
  for (const lot of lots)
    remaining.set(lot.productId, [...(remaining.get(lot.productId) ?? []), { lot, units: lot.units }]);
  return new Map(
    demands.map((demand) => [demand.lineId, serve(demand.left, remaining.get(demand.productId) ?? [])]),
  );
}

function serve(wanted: number, stock: readonly { readonly lot: ShelfLot; units: number }[]): Share {
  let missing = wanted;
  const takes: Take[] = [];
  const waiting: (Take & { readonly readyDueAt: Date })[] = [];
  for (const entry of stock) {
    const units = Math.min(missing, entry.units);
    if (units === 0) continue;
    entry.units -= units;
    missing -= units;
    const { id: lotId, readyDueAt } = entry.lot;
    if (readyDueAt === null) takes.push({ lotId, units });
    else waiting.push({ lotId, units, readyDueAt });
  }
  return { free: takes.reduce((sum, take) => sum + take.units, 0), takes, waiting, missing };
}

/** One take a lot, by lot: the order in which lots are locked. */
export function gathered(takes: readonly Take[]): readonly Take[] {
  const unitsOf = new Map<number, number>();
  for (const { lotId, units } of takes) unitsOf.set(lotId, (unitsOf.get(lotId) ?? 0) + units);
  return [...unitsOf]
    .map(([lotId, units]) => ({ lotId, units }))
    .toSorted((one, other) => one.lotId - other.lotId);
}
