import { and, ne, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { orders } from "../../db/schema/orders.ts";

/** Our own numbers start here, so that they have three digits and stand in order. */
const BEFORE_THE_FIRST = 100;

/**
 * Makes every other command that gives out references wait until this transaction ends, so that two orders entered
 * at once get two numbers. Taken before any row is locked. Packing and delivery do not wait for it.
 */
export async function holdReferences(transaction: Transaction): Promise<void> {
  await transaction.execute(sql`select pg_advisory_xact_lock(hashtext('orders.reference'))`);
}

/** The next free number of our own, such as "W-105" after "W-104". */
export async function nextReference(db: Database | Transaction, letter: "W" | "M"): Promise<string> {
  const pattern = `^${letter}-([0-9]{1,8})$`;
  const [row] = await db
    .select({
      newest: sql<number>`coalesce(max(substring(upper(${orders.reference}) from ${pattern})::integer), ${BEFORE_THE_FIRST})`,
    })
    .from(orders);
  return `${letter}-${String((row?.newest ?? BEFORE_THE_FIRST) + 1).padStart(3, "0")}`;
}

/** Whether another order has this reference, however it is capitalised. */
export async function referenceTaken(
  transaction: Transaction,
  reference: string,
  exceptOrderId = 0,
): Promise<boolean> {
  const [taken] = await transaction
    .select({ id: orders.id })
    .from(orders)
    .where(and(sql`lower(${orders.reference}) = lower(${reference})`, ne(orders.id, exceptOrderId)));
  return taken !== undefined;
}
