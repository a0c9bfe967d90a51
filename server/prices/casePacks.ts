import { eq, isNull, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { casePacks } from "../../db/schema/customers.ts";
import { products } from "../../db/schema/products.ts";

/** The right numbers next to a wrong one; `below` is null where the next lower would be nothing. */
export interface NearestCases {
  readonly below: number | null;
  readonly above: number;
}

/**
 * Whether a number of pieces fills whole cases.
 *
 * @param units at least 1
 * @param caseUnits pieces in a case, at least 1
 * @returns null when it does, else the nearest numbers that would.
 */
export function nearestCases(units: number, caseUnits: number): NearestCases | null {
  const over = units % caseUnits;
  if (over === 0) return null;
  const below = units - over;
  return { below: below === 0 ? null : below, above: below + caseUnits };
}

/** Pieces in a case of each product in use, for a customer: its own case, else everybody's, else 1. */
export async function readCasePacks(
  db: Database | Transaction,
  customerId: number,
): Promise<ReadonlyMap<number, number>> {
  const caseFor = (whose: ReturnType<typeof sql>) =>
    sql`(select ${casePacks.units} from ${casePacks} where ${casePacks.shapeId} = ${products.shapeId} and ${whose})`;
  const rows = await db
    .select({
      productId: products.id,
      units: sql<number>`coalesce(${caseFor(eq(casePacks.customerId, customerId))}, ${caseFor(isNull(casePacks.customerId))}, 1)`,
    })
    .from(products)
    .where(isNull(products.retiredAt));
  return new Map(rows.map((row) => [row.productId, row.units]));
}
