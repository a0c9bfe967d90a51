import { eq, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { taxGroups, taxRates } from "../../db/schema/taxes.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { retireOrReturn } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { NewTaxGroup, NewTaxRate } from "./forms.ts";

export type TaxRefusal = "not-found" | "name-taken" | "in-use";

/** Adds a tax group with its first rate. */
export async function addTaxGroup(
  transaction: Transaction,
  actor: Actor,
  { name, validFrom, ratePpm }: NewTaxGroup,
): Promise<Result<{ readonly taxGroupId: number }, "name-taken">> {
  const [row] = await transaction
    .insert(taxGroups)
    .values({ name })
    .onConflictDoNothing()
    .returning({ id: taxGroups.id });
  if (!row) return refuse("name-taken");
  await transaction.insert(taxRates).values({ taxGroupId: row.id, validFrom, ratePpm });
  await recordChange(transaction, actor, {
    subject: "tax group",
    subjectId: row.id,
    what: "added",
    after: { name, validFrom, ratePpm },
  });
  return ok({ taxGroupId: row.id });
}

/** Calls a tax group something else. */
export async function renameTaxGroup(
  transaction: Transaction,
  actor: Actor,
  { taxGroupId, name }: { readonly taxGroupId: number; readonly name: string },
): Promise<Result<null, TaxRefusal>> {
  await transaction.execute(sql`lock table ${taxGroups} in share row exclusive mode`);
  const [row] = await transaction.select().from(taxGroups).where(eq(taxGroups.id, taxGroupId));
  if (!row) return refuse("not-found");
  if (row.name === name) return ok(null);
  const taken = sql`lower(${taxGroups.name}) = lower(${name}) and ${ne(taxGroups.id, taxGroupId)}`;
  if ((await transaction.$count(taxGroups, taken)) > 0) return refuse("name-taken");
  await transaction.update(taxGroups).set({ name }).where(eq(taxGroups.id, taxGroupId));
  await recordChange(transaction, actor, {
    subject: "tax group",
    subjectId: taxGroupId,
    what: "changed",
    before: { name: row.name },
    after: { name },
  });
  return ok(null);
}

/** Sets the rate from a date on. Orders that have their prices keep the rate they were confirmed with. */
export async function setTaxRate(
  transaction: Transaction,
  actor: Actor,
  { taxGroupId, validFrom, ratePpm }: NewTaxRate & { readonly taxGroupId: number },
): Promise<Result<null, TaxRefusal>> {
  const [group] = await transaction
    .select()
    .from(taxGroups)
    .where(eq(taxGroups.id, taxGroupId))
    .for("update");
  if (!group) return refuse("not-found");
  const [before] = await transaction
    .select()
    .from(taxRates)
    .where(sql`${taxRates.taxGroupId} = ${taxGroupId} and ${taxRates.validFrom} = ${validFrom}`);
  if (before?.ratePpm === ratePpm) return ok(null);
  await transaction
    .insert(taxRates)
    .values({ taxGroupId, validFrom, ratePpm })
    .onConflictDoUpdate({ target: [taxRates.taxGroupId, taxRates.validFrom], set: { ratePpm } });
  await recordChange(transaction, actor, {
    subject: "tax group",
    subjectId: taxGroupId,
    what: "given a rate",
    before: before ? { validFrom, ratePpm: before.ratePpm } : undefined,
    after: { validFrom, ratePpm },
  });
  return ok(null);
}

/** Takes a group out of the choices; not while it is the usual one, or customers in use are in it. */
export async function retireTaxGroup(
  transaction: Transaction,
  actor: Actor,
  { taxGroupId }: { readonly taxGroupId: number },
): Promise<Result<null, TaxRefusal>> {
  const members = sql`${customers.taxGroupId} = ${taxGroupId} and ${customers.retiredAt} is null`;
  if (
    (await transaction.$count(workshop, eq(workshop.usualTaxGroupId, taxGroupId))) > 0 ||
    (await transaction.$count(customers, members)) > 0
  )
    return refuse("in-use");
  return retireOrReturn(transaction, actor, taxGroups, {
    subject: "tax group",
    id: taxGroupId,
    retired: true,
  });
}

export async function bringBackTaxGroup(
  transaction: Transaction,
  actor: Actor,
  { taxGroupId }: { readonly taxGroupId: number },
): Promise<Result<null, TaxRefusal>> {
  return retireOrReturn(transaction, actor, taxGroups, {
    subject: "tax group",
    id: taxGroupId,
    retired: false,
  });
}
