import { and, asc, eq, inArray, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";

/** A draft that nobody of the house typed: it waits for the owner's yes. */
export interface WaitingDraft {
  readonly id: number;
  readonly reference: string;
  readonly customer: string;
  readonly source: "standing" | "stockist";
  readonly neededBy: string | null;
  readonly units: number;
}

/** Those that came by themselves, from a standing order or a shop's own order page; the first needed first. */
export async function listWaitingDrafts(db: Database): Promise<readonly WaitingDraft[]> {
  const rows = await db
    .select({
      id: orders.id,
      reference: orders.reference,
      customer: customers.name,
      source: orders.source,
      neededBy: orders.neededBy,
      units: sql<number>`(select coalesce(sum(${orderLines.units}), 0)::integer from ${orderLines}
        where ${orderLines.orderId} = ${orders.id})`,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(and(eq(orders.state, "draft"), inArray(orders.source, ["standing", "stockist"])))
    .orderBy(asc(orders.shipBy), asc(orders.id));
  return rows.map((row) => ({ ...row, source: row.source as WaitingDraft["source"] }));
}
