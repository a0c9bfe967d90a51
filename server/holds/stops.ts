import { asc, eq, inArray, sql } from "drizzle-orm";
import type { PgColumn } from "drizzle-orm/pg-core";
import type { Database, Transaction } from "../../db/connect.ts";
import { lotStops } from "../../db/schema/holds.ts";
import { lots } from "../../db/schema/lots.ts";
import { people } from "../../db/schema/people.ts";

/** Why nothing is packed of a lot, since when, and who said so. */
export interface Stop {
  readonly kind: "held" | "recalled";
  readonly reason: string;
  readonly since: Date;
  readonly person: string | null;
  /** Null: it is on hold. */
  readonly recallId: number | null;
  /** The lot of a supply in it that is recalled; null: the lot itself is. */
  readonly supplyLotCode: string | null;
}

/** A condition: something about the lot of this column stands against packing it. */
export function isStopped(lotId: PgColumn) {
  return sql<boolean>`exists (select 1 from ${lotStops} where ${lotStops.lotId} = ${lotId})`;
}

/** What stands against packing some lots, by lot, the oldest reason first; lots that may be packed are left out. */
export async function stopsOf(
  db: Database | Transaction,
  lotIds: readonly number[],
): Promise<ReadonlyMap<number, readonly Stop[]>> {
  const stops = new Map<number, Stop[]>();
  if (lotIds.length === 0) return stops;
  const rows = await db
    .select({
      lotId: lotStops.lotId,
      stop: {
        kind: lotStops.kind,
        reason: lotStops.reason,
        since: lotStops.since,
        person: people.name,
        recallId: lotStops.recallId,
        supplyLotCode: lotStops.supplyLotCode,
      },
    })
    .from(lotStops)
    .leftJoin(people, eq(people.id, lotStops.personId))
    .where(inArray(lotStops.lotId, [...lotIds]))
    .orderBy(asc(lotStops.lotId), asc(lotStops.since));
  for (const { lotId, stop } of rows) stops.set(lotId, [...(stops.get(lotId) ?? []), stop]);
  return stops;
}

export interface StoppedLot {
  readonly code: string;
  readonly stop: Stop;
}

/**
 * The first of some lots, by id, that nothing may be packed of; undefined where all may. Read it once the lots are held:
 * whoever stops a lot holds it too.
 */
export async function firstStopped(
  transaction: Transaction,
  lotIds: readonly number[],
): Promise<StoppedLot | undefined> {
  const [first] = await stopsOf(transaction, lotIds);
  if (!first) return undefined;
  const [lotId, [stop]] = first;
  const [lot] = await transaction.select({ code: lots.code }).from(lots).where(eq(lots.id, lotId));
  return lot && stop && { code: lot.code, stop };
}
