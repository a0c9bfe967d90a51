import { asc, count, eq, getTableColumns, isNull, or, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { casePacks, customerContacts, customers } from "../../db/schema/customers.ts";
import { orders } from "../../db/schema/orders.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { taxGroups } from "../../db/schema/taxes.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { readParts } from "./writeParts.ts";

/** Most customers that one page shows. */
const MOST_SHOWN = 200;

/** Those whose name has `search` in it, however it is capitalised; those in use first, by name. */
export async function listCustomers(db: Database, search: string) {
  const found = await db
    .select({
      ...getTableColumns(customers),
      // In a select from one table drizzle writes its columns without the table, which the inner select needs.
      contact: sql<string>`coalesce((select concat_ws(', ', nullif(name, ''), nullif(phone, ''))
        from ${customerContacts} where customer_id = ${sql`${customers.id}`} order by id limit 1), '')`,
    })
    .from(customers)
    .where(sql`position(lower(${search}) in lower(${customers.name})) > 0`)
    .orderBy(sql`${customers.retiredAt} is not null`, asc(sql`lower(${customers.name})`), asc(customers.id))
    .limit(MOST_SHOWN + 1);
  return { customers: found.slice(0, MOST_SHOWN), more: found.length > MOST_SHOWN };
}

export async function countCustomers(db: Database) {
  const [counts] = await db
    .select({
      shops: sql<number>`count(*) filter (where retired_at is null and kind = 'shop')::integer`,
      markets: sql<number>`count(*) filter (where retired_at is null and kind = 'market')::integer`,
      retired: sql<number>`count(retired_at)::integer`,
    })
    .from(customers);
  return counts ?? { shops: 0, markets: 0, retired: 0 };
}

/** A customer with its contacts and case sizes, and with how many orders it ever gave. */
export async function findCustomer(db: Database, customerId: number) {
  const [row] = await db
    .select({ customer: customers, orders: count(orders.id) })
    .from(customers)
    .leftJoin(orders, eq(orders.customerId, customers.id))
    .where(eq(customers.id, customerId))
    .groupBy(customers.id);
  return row && { ...row.customer, ...(await readParts(db, customerId)), orders: row.orders };
}

/** What the form of a customer offers; what the customer has stays on offer when it is retired. */
export async function listTermChoices(
  db: Database,
  kept: { readonly taxGroupId: number | null; readonly priceListId: number | null },
) {
  return {
    taxGroups: await db
      .select({ id: taxGroups.id, name: taxGroups.name })
      .from(taxGroups)
      .where(or(isNull(taxGroups.retiredAt), eq(taxGroups.id, kept.taxGroupId ?? 0)))
      .orderBy(asc(taxGroups.name), asc(taxGroups.id)),
    priceLists: await db
      .select({ id: priceLists.id, name: priceLists.name, kind: priceLists.kind })
      .from(priceLists)
      .where(or(isNull(priceLists.retiredAt), eq(priceLists.id, kept.priceListId ?? 0)))
      .orderBy(asc(priceLists.name), asc(priceLists.id)),
    shapes: await db
      .select({ id: shapes.id, name: shapes.name, usualCase: casePacks.units })
      .from(shapes)
      .leftJoin(casePacks, sql`${casePacks.shapeId} = ${shapes.id} and ${casePacks.customerId} is null`)
      .where(isNull(shapes.retiredAt))
      .orderBy(asc(shapes.name), asc(shapes.id)),
  };
}
