import { sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { workshop } from "../../db/schema/workshop.ts";

/** The workshop's calendar date of an instant, and the last date an order may be promised for; ISO 8601. */
export async function promisableDates(
  db: Database | Transaction,
  at: Date,
  mostDaysAhead: number,
): Promise<{ readonly today: string; readonly last: string }> {
  const today = sql`(${at.toISOString()}::timestamptz at time zone ${workshop.timeZone})::date`;
  const [dates] = await db
    .select({
      today: sql<string>`${today}::text`,
      last: sql<string>`(${today} + ${mostDaysAhead}::integer)::text`,
    })
    .from(workshop);
  if (!dates) throw new Error("Orders are taken only by a workshop that is set up");
  return dates;
}
