import type { Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { retireOrReturn } from "../../db/setRetired.ts";
import type { Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";

/** Retires a customer: no new orders from it; those it has are made and sent as before. */
export function retireCustomer(
  transaction: Transaction,
  actor: Actor,
  { customerId }: { readonly customerId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, customers, {
    subject: "customer",
    id: customerId,
    retired: true,
  });
}

/** Takes a retired customer's orders again. */
export function bringBackCustomer(
  transaction: Transaction,
  actor: Actor,
  { customerId }: { readonly customerId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, customers, {
    subject: "customer",
    id: customerId,
    retired: false,
  });
}
