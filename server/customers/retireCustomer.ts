import type { Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { setRetired } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";

/** Retires a customer: no new orders from it; those it has are made and sent as before. */
export function retireCustomer(
  transaction: Transaction,
  actor: Actor,
  { customerId }: { readonly customerId: number },
): Promise<Result<null, "not-found">> {
  return retire(transaction, actor, customerId, true);
}

/** Takes a retired customer's orders again. */
export function bringBackCustomer(
  transaction: Transaction,
  actor: Actor,
  { customerId }: { readonly customerId: number },
): Promise<Result<null, "not-found">> {
  return retire(transaction, actor, customerId, false);
}

async function retire(
  transaction: Transaction,
  actor: Actor,
  id: number,
  retired: boolean,
): Promise<Result<null, "not-found">> {
  const found = await setRetired(transaction, actor, customers, { subject: "customer", id, retired });
  return found ? ok(null) : refuse("not-found");
}
