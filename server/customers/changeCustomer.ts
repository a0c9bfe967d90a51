import { isDeepStrictEqual } from "node:util";
import { and, eq, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { orders } from "../../db/schema/orders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { checkTerms, type TermsRefusal } from "./checkTerms.ts";
import type { CustomerFacts } from "./forms.ts";
import { readParts, writeParts } from "./writeParts.ts";

export type CustomerRefusal = "not-found" | "name-taken" | "kind-fixed" | TermsRefusal;

/**
 * Changes what is known of a customer. Orders taken before keep the terms and the weight they were taken with; a
 * customer with orders stays the shop or the market it was when they were taken.
 */
export async function changeCustomer(
  transaction: Transaction,
  actor: Actor,
  { customerId, ...after }: CustomerFacts & { readonly customerId: number },
): Promise<Result<{ readonly customerId: number }, CustomerRefusal>> {
  await transaction.execute(sql`lock table ${customers} in share row exclusive mode`);
  const [row] = await transaction.select().from(customers).where(eq(customers.id, customerId)).for("update");
  if (!row) return refuse("not-found");
  const wrong = await checkTerms(transaction, after, row);
  if (wrong) return refuse(wrong);
  const { id: _id, retiredAt: _retiredAt, ...facts } = row;
  const before = { ...facts, ...(await readParts(transaction, customerId)), currency: after.currency };
  if (isDeepStrictEqual(before, after)) return ok({ customerId });
  if (await nameIsTaken(transaction, customerId, after.name)) return refuse("name-taken");
  if (before.kind !== after.kind && (await hasOrders(transaction, customerId))) return refuse("kind-fixed");
  await transaction.update(customers).set(after).where(eq(customers.id, customerId));
  await writeParts(transaction, customerId, after);
  await recordChange(transaction, actor, {
    subject: "customer",
    subjectId: customerId,
    what: "changed",
    before,
    after,
  });
  return ok({ customerId });
}

async function nameIsTaken(transaction: Transaction, customerId: number, name: string): Promise<boolean> {
  const [other] = await transaction
    .select({ id: customers.id })
    .from(customers)
    .where(and(ne(customers.id, customerId), sql`lower(${customers.name}) = lower(${name})`));
  return other !== undefined;
}

async function hasOrders(transaction: Transaction, customerId: number): Promise<boolean> {
  const [order] = await transaction
    .select({ id: orders.id })
    .from(orders)
    .where(eq(orders.customerId, customerId))
    .limit(1);
  return order !== undefined;
}
