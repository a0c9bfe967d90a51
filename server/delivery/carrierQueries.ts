import { asc, eq, getTableColumns, isNull, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { carriers, parcels } from "../../db/schema/parcels.ts";

/** Carriers in use first, by name, each with how many parcels it ever took. */
export async function listCarriers(db: Database) {
  return await db
    .select({
      ...getTableColumns(carriers),
      parcels: sql<number>`(select count(*) from ${parcels} p where p.carrier_id = carriers.id)::integer`,
    })
    .from(carriers)
    .orderBy(sql`${carriers.retiredAt} is not null`, asc(sql`lower(${carriers.name})`), asc(carriers.id));
}

export type CarrierRow = Awaited<ReturnType<typeof listCarriers>>[number];

export async function findCarrier(db: Database, carrierId: number) {
  const [row] = await db.select().from(carriers).where(eq(carriers.id, carrierId));
  return row;
}

/** What a parcel may be sent with: the carriers in use, by name, each with its services. */
export async function listCarrierChoices(db: Database) {
  return await db
    .select({ id: carriers.id, name: carriers.name, services: carriers.services })
    .from(carriers)
    .where(isNull(carriers.retiredAt))
    .orderBy(asc(sql`lower(${carriers.name})`), asc(carriers.id));
}
