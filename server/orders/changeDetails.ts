import { inArray, sql } from "drizzle-orm";
import { z } from "zod";
import type { Database } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { carriers } from "../../db/schema/parcels.ts";
import type { HistoryEntry } from "../../views/orders/historyWords.ts";
import type { OrderChangeRow } from "./oneOrder.ts";

/** A parcel as the history keeps it. */
const keptParcel = z.object({
  carrierId: z.number().nullable(),
  service: z.string(),
  grams: z.number().nullable(),
  tracking: z.string(),
  // Helpers neither see nor say it.
  costMinor: z
    .number()
    .nullish()
    .transform((cost) => cost ?? null),
});

/** One parcel that was written down or changed, or all that left with a delivery. */
const keptParcels = z.union([
  keptParcel.transform((parcel) => [parcel]),
  z.object({ parcels: z.array(keptParcel) }).transform(({ parcels }) => parcels),
]);

/** Pieces of a lot that were loaded into the car, or taken out again. */
const keptTick = z.object({ lotId: z.number(), orderLineId: z.number(), units: z.number() });

type Details = Pick<HistoryEntry, "parcels" | "crate">;

/**
 * What changes of an order say about its parcels and its crate, with carriers and lots by their names of today: the history
 * keeps their numbers. Nothing of a change that is about neither.
 */
export async function readChangeDetails(
  db: Database,
  changes: readonly OrderChangeRow[],
): Promise<(change: OrderChangeRow) => Details> {
  const parcelsOf = (facts: unknown) => keptParcels.safeParse(facts).data ?? [];
  const tickOf = ({ before, after }: OrderChangeRow) => keptTick.safeParse(after ?? before).data;
  const carrierName = await namesOf(
    db,
    carriers,
    carriers.name,
    changes.flatMap(({ before, after }) =>
      [...parcelsOf(before), ...parcelsOf(after)].flatMap(({ carrierId }) => carrierId ?? []),
    ),
  );
  const lotCode = await namesOf(
    db,
    lots,
    lots.code,
    changes.flatMap((change) => tickOf(change)?.lotId ?? []),
  );
  const named = (facts: unknown) =>
    parcelsOf(facts).map(({ carrierId, ...parcel }) => ({
      ...parcel,
      carrier: carrierId === null ? "" : (carrierName.get(carrierId) ?? ""),
    }));
  return (change) => {
    const tick = tickOf(change);
    return {
      parcels: { before: named(change.before), after: named(change.after) },
      crate: tick ? { units: tick.units, lotCode: lotCode.get(tick.lotId) ?? "" } : null,
    };
  };
}

async function namesOf(
  db: Database,
  table: typeof carriers | typeof lots,
  name: typeof carriers.name | typeof lots.code,
  ids: readonly number[],
): Promise<ReadonlyMap<number, string>> {
  if (ids.length === 0) return new Map();
  const rows = await db
    .select({ id: sql<number>`${table.id}`, name: sql<string>`${name}` })
    .from(table)
    .where(inArray(table.id, [...new Set(ids)]));
  return new Map(rows.map((row) => [row.id, row.name]));
}
