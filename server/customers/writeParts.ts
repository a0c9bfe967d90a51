import { asc, eq } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { casePacks, customerContacts } from "../../db/schema/customers.ts";
import type { CustomerFacts } from "./forms.ts";

/** The rows of other tables that belong to a customer's form. */
type CustomerParts = Pick<CustomerFacts, "contacts" | "casePacks">;

export async function readParts(db: Database | Transaction, customerId: number): Promise<CustomerParts> {
  return {
    contacts: await db
      .select({
        name: customerContacts.name,
        role: customerContacts.role,
        phone: customerContacts.phone,
        email: customerContacts.email,
      })
      .from(customerContacts)
      .where(eq(customerContacts.customerId, customerId))
      .orderBy(asc(customerContacts.id)),
    casePacks: await db
      .select({ shapeId: casePacks.shapeId, units: casePacks.units })
      .from(casePacks)
      .where(eq(casePacks.customerId, customerId))
      .orderBy(asc(casePacks.shapeId)),
  };
}

/** Puts these in the place of those there are; nothing else points at them. */
export async function writeParts(
  transaction: Transaction,
  customerId: number,
  parts: CustomerParts,
): Promise<void> {
  await transaction.delete(customerContacts).where(eq(customerContacts.customerId, customerId));
  if (parts.contacts.length > 0)
    await transaction.insert(customerContacts).values(parts.contacts.map((one) => ({ ...one, customerId })));
  await transaction.delete(casePacks).where(eq(casePacks.customerId, customerId));
  if (parts.casePacks.length > 0)
    await transaction.insert(casePacks).values(parts.casePacks.map((one) => ({ ...one, customerId })));
}
