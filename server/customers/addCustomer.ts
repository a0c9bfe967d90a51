import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { CustomerFacts } from "./forms.ts";

/** Adds a shop or a market. No two customers have the same name, however it is capitalised. */
export async function addCustomer(
  transaction: Transaction,
  actor: Actor,
  customer: CustomerFacts,
): Promise<Result<{ readonly customerId: number }, "name-taken">> {
  const [row] = await transaction
    .insert(customers)
    .values(customer)
    .onConflictDoNothing()
    .returning({ id: customers.id });
  if (!row) return refuse("name-taken");
  await recordChange(transaction, actor, {
    subject: "customer",
    subjectId: row.id,
    what: "added",
    after: customer,
  });
  return ok({ customerId: row.id });
}
