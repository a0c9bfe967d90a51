import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { checkTerms, type TermsRefusal } from "./checkTerms.ts";
import type { CustomerFacts } from "./forms.ts";
import { writeParts } from "./writeParts.ts";

/** Adds a shop or a market. No two customers have the same name, however it is capitalised. */
export async function addCustomer(
  transaction: Transaction,
  actor: Actor,
  customer: CustomerFacts,
): Promise<Result<{ readonly customerId: number }, "name-taken" | TermsRefusal>> {
  const wrong = await checkTerms(transaction, customer);
  if (wrong) return refuse(wrong);
  const [row] = await transaction
    .insert(customers)
    .values(customer)
    .onConflictDoNothing()
    .returning({ id: customers.id });
  if (!row) return refuse("name-taken");
  await writeParts(transaction, row.id, customer);
  await recordChange(transaction, actor, {
    subject: "customer",
    subjectId: row.id,
    what: "added",
    after: customer,
  });
  return ok({ customerId: row.id });
}
