import type { Database, Transaction } from "../../db/connect.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { dateOf } from "../../views/format/dates.ts";

/** The workshop's calendar date of an instant. */
export async function workshopDay(db: Database | Transaction, at: Date): Promise<string> {
  const [row] = await db.select({ timeZone: workshop.timeZone }).from(workshop);
  if (!row) throw new Error("There is no workshop whose date could be told");
  return dateOf(at, row.timeZone);
}
