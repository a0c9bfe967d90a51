import { groupBy } from "../basics/groupBy.ts";

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
  /** Of the pieces: kept by the owner for these lines, the first kept first. */
  readonly kept?: readonly KeptPart[];
}

/** Pieces of a lot that only one order line may take. */
export interface KeptPart {
  readonly lineId: number;
  readonly units: number;
}

/** Pieces of a lot that a line may take: all that are not kept for others. */
export function freeFor({ units, kept = [] }: ShelfLot, lineId: number): number {
  return kept.reduce((free, part) => (part.lineId === lineId ? free : Math.max(0, free - part.units)), units);
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

/**
 * Serves the demands in the order given, so that no later promise lives on the pieces of an earlier one. What is kept for a
 * line is taken by it first, and by no other.
 */
export function shareShelf(
  demands: readonly Demand[],
  lots: readonly ShelfLot[],
): ReadonlyMap<number, Share> {
  const stock = groupBy(lots.map(stockOf), ({ lot }) => lot.productId);
  return new Map(demands.map((demand) => [demand.lineId, serve(demand, stock.get(demand.productId) ?? [])]));
}

/** A lot while it is given out: what anybody may take, and what is kept for a line. */
interface Stock {
  readonly lot: ShelfLot;
  free: number;
  readonly kept: Map<number, number>;
}

/** Where more is kept than there is, as pieces broke, the first kept is there first. */
function stockOf(lot: ShelfLot): Stock {
  let free = lot.units;
  const kept = new Map<number, number>();
  for (const part of lot.kept ?? []) {
    const units = Math.min(free, part.units);
    kept.set(part.lineId, units);
    free -= units;
  }
  return { lot, free, kept };
}

function serve({ lineId, left }: Demand, stock: readonly Stock[]): Share {
  let missing = left;
  const fromKept = stock.map((entry) => {
    const units = Math.min(missing, entry.kept.get(lineId) ?? 0);
    missing -= units;
    entry.kept.delete(lineId);
    return units;
  });
  const takes: Take[] = [];
  const waiting: (Take & { readonly readyDueAt: Date })[] = [];
  for (const [place, entry] of stock.entries()) {
    const fromFree = Math.min(missing, entry.free);
    entry.free -= fromFree;
    missing -= fromFree;
    const units = fromFree + (fromKept[place] ?? 0);
    if (units === 0) continue;
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
