import type { Database, Transaction } from "../../db/connect.ts";
import { workshop } from "../../db/schema/workshop.ts";

/** The workshop's currency, ISO 4217: what every amount is typed and shown in. */
export async function readCurrency(db: Database | Transaction): Promise<string> {
  const [row] = await db.select({ currency: workshop.currency }).from(workshop);
  if (!row) throw new Error("There is no workshop whose currency could be read");
  return row.currency;
}
