import { asc, eq, getTableColumns, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { suppliers, supplyPacks } from "../../db/schema/suppliers.ts";

/** Suppliers in use first, by name, each with how many supplies are bought there. */
export async function listSuppliers(db: Database) {
  return await db
    .select({
      ...getTableColumns(suppliers),
      supplies: sql<number>`(select count(distinct p.supply_id) from ${supplyPacks} p
        where p.supplier_id = suppliers.id and p.retired_at is null)::integer`,
    })
    .from(suppliers)
    .orderBy(sql`${suppliers.retiredAt} is not null`, asc(suppliers.name), asc(suppliers.id));
}

export type SupplierRow = Awaited<ReturnType<typeof listSuppliers>>[number];

export async function findSupplier(db: Database, supplierId: number) {
  const [row] = await db.select().from(suppliers).where(eq(suppliers.id, supplierId));
  return row;
}
