import { asc, eq, inArray } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { labelMaker } from "../../db/schema/labels.ts";
import { carriers, parcels } from "../../db/schema/parcels.ts";
import { trackingAddress } from "./trackingLink.ts";

/** A parcel as pages show it, without what it cost. */
export type ShownParcel = Omit<ParcelRow, "costMinor">;
export type ParcelRow = Awaited<ReturnType<typeof listParcels>>[number];

/** The parcels of some deliveries in the order in which they were written down. */
export async function listParcels(db: Database, deliveryIds: readonly number[]) {
  if (deliveryIds.length === 0) return [];
  const rows = await db
    .select({
      parcelId: parcels.id,
      deliveryId: parcels.deliveryId,
      carrierId: parcels.carrierId,
      carrier: carriers.name,
      service: parcels.service,
      grams: parcels.grams,
      tracking: parcels.tracking,
      pattern: carriers.trackingPattern,
      costMinor: parcels.costMinor,
    })
    .from(parcels)
    .leftJoin(carriers, eq(carriers.id, parcels.carrierId))
    .where(inArray(parcels.deliveryId, [...deliveryIds]))
    .orderBy(asc(parcels.id));
  return rows.map(({ pattern, carrier, ...parcel }) => ({
    ...parcel,
    carrier: carrier ?? "",
    /** Where it is followed; null: nowhere. */
    address: trackingAddress(pattern ?? "", parcel.tracking),
  }));
}

/** Each delivery with its parcels; what they cost is left out. */
export async function withParcels<Delivery extends { readonly deliveryId: number }>(
  db: Database,
  rows: readonly Delivery[],
): Promise<readonly (Delivery & { readonly parcels: readonly ShownParcel[] })[]> {
  const all = await listParcels(
    db,
    rows.map(({ deliveryId }) => deliveryId),
  );
  return rows.map((row) => ({
    ...row,
    parcels: all
      .filter(({ deliveryId }) => deliveryId === row.deliveryId)
      .map(({ costMinor: _, ...parcel }) => parcel),
  }));
}

/** Whether the shop sells in ounces: its labels are held to the rules of the United States. */
export async function sellsInOunces(db: Database): Promise<boolean> {
  return (await db.$count(labelMaker, eq(labelMaker.market, "us"))) > 0;
}
