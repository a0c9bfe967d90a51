import type { Transaction } from "../../db/connect.ts";
import { workshop } from "../../db/schema/workshop.ts";

/** The workshop's currency, which stays what it is until this transaction ends: taken before amounts in it are written. */
export async function holdCurrency(transaction: Transaction): Promise<string> {
  const [row] = await transaction.select({ currency: workshop.currency }).from(workshop).for("share");
  if (!row) throw new Error("There is no workshop whose currency could be held");
  return row.currency;
}
