import { asc, count, eq, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orders } from "../../db/schema/orders.ts";

/** Most customers that one page shows. */
const MOST_SHOWN = 200;

/** Those whose name has `search` in it, however it is capitalised; those in use first, by name. */
export async function listCustomers(db: Database, search: string) {
  const found = await db
    .select()
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

/** A customer with how many orders it ever gave. */
export async function findCustomer(db: Database, customerId: number) {
  const [row] = await db
    .select({ customer: customers, orders: count(orders.id) })
    .from(customers)
    .leftJoin(orders, eq(orders.customerId, customers.id))
    .where(eq(customers.id, customerId))
    .groupBy(customers.id);
  return row && { ...row.customer, orders: row.orders };
}
