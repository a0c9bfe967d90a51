import { asc, eq, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { lotBalances } from "../../db/schema/sums.ts";

/** Pieces of one lot that left in one crate. */
export interface CratePart {
  readonly deliveryId: number;
  readonly lotId: number;
  readonly productId: number;
  readonly leftUnits: number;
  /** Of these back in the lot, as far as it has been counted. */
  readonly homeUnits: number;
  /** All pieces of the lot that are here now. */
  readonly hereUnits: number;
}

/** What left with a crate list, the lots that became ready first before the others. */
export async function readCrateOut(
  db: Database | Transaction,
  orderId: number,
): Promise<readonly CratePart[]> {
  return await db
    .select({
      deliveryId: deliveryLines.deliveryId,
      lotId: deliveryLines.lotId,
      productId: lots.productId,
      leftUnits: sql<number>`sum(${deliveryLines.units})::integer`,
      homeUnits: sql<number>`(select coalesce(sum(${moves.units}), 0) from ${moves}
        where ${moves.deliveryId} = ${deliveryLines.deliveryId} and ${moves.lotId} = ${deliveryLines.lotId})::integer`,
      hereUnits: lotBalances.units,
    })
    .from(deliveryLines)
    .innerJoin(deliveries, eq(deliveries.id, deliveryLines.deliveryId))
    .innerJoin(lots, eq(lots.id, deliveryLines.lotId))
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .where(eq(deliveries.orderId, orderId))
    .groupBy(deliveryLines.deliveryId, deliveryLines.lotId, lots.id, lotBalances.units)
    .orderBy(asc(lots.productId), asc(lots.readyAt), asc(lots.id), asc(deliveryLines.deliveryId));
}

/** Pieces of each product that left. */
export function takenOf(crate: readonly CratePart[]): ReadonlyMap<number, number> {
  const taken = new Map<number, number>();
  for (const { productId, leftUnits } of crate) taken.set(productId, (taken.get(productId) ?? 0) + leftUnits);
  return taken;
}

/** One return: so many pieces more, or (negative) fewer, back in a lot. */
export interface Homecoming {
  readonly deliveryId: number;
  readonly lotId: number;
  readonly units: number;
}

/**
 * How pieces of one product that came home go back to their lots. A stall sells first what was ready first, so what
 * comes home is taken for the newest; a count that is corrected downwards takes the oldest back out. Only what still
 * lies in a lot can be taken out of it.
 *
 * @param parts of one product, the lots that became ready first before the others
 * @param homeUnits what came home in all, not more than left
 * @returns null when more would have to be taken out than is there.
 */
export function homecomings(parts: readonly CratePart[], homeUnits: number): readonly Homecoming[] | null {
  const known = parts.reduce((sum, part) => sum + part.homeUnits, 0);
  let rest = homeUnits - known;
  const back: Homecoming[] = [];
  const here = new Map(parts.map(({ lotId, hereUnits }) => [lotId, hereUnits]));
  for (const part of rest > 0 ? parts.toReversed() : parts) {
    const inLot = here.get(part.lotId) ?? 0;
    const units =
      rest > 0
        ? Math.min(rest, part.leftUnits - part.homeUnits)
        : -Math.min(-rest, part.homeUnits, Math.max(0, inLot));
    if (units === 0) continue;
    here.set(part.lotId, inLot + units);
    back.push({ deliveryId: part.deliveryId, lotId: part.lotId, units });
    rest -= units;
  }
  return rest === 0 ? back : null;
}
