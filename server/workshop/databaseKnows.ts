import { sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";

/** Whether the database has the rules of a time zone too: it may be older than the platform that listed the zone. */
export async function databaseKnows(transaction: Transaction, timeZone: string): Promise<boolean> {
  const found = await transaction.execute(sql`select 1 from pg_timezone_names where name = ${timeZone}`);
  return found.length > 0;
}

export const zoneUnknown =
  "The database does not know this time zone: choose one nearby that keeps the same time.";
