import { isDeepStrictEqual } from "node:util";
import { and, eq, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { carriers } from "../../db/schema/parcels.ts";
import { retireOrReturn } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { CarrierFacts } from "./carrierForms.ts";

export type CarrierRefusal = "not-found" | "name-taken";

/** Adds a carrier to the shop's list. No two have the same name, however it is capitalised. */
export async function addCarrier(
  transaction: Transaction,
  actor: Actor,
  facts: CarrierFacts,
): Promise<Result<{ readonly carrierId: number }, CarrierRefusal>> {
  if (await nameTaken(transaction, facts.name)) return refuse("name-taken");
  const [row] = await transaction.insert(carriers).values(facts).returning({ id: carriers.id });
  if (!row) throw new Error("The new carrier's row did not come back");
  const change = { subject: "carrier", subjectId: row.id, what: "added", after: facts };
  await recordChange(transaction, actor, change);
  return ok({ carrierId: row.id });
}

/** Changes a carrier; parcels sent before keep the service they were sent by. */
export async function changeCarrier(
  transaction: Transaction,
  actor: Actor,
  { carrierId, ...facts }: CarrierFacts & { readonly carrierId: number },
): Promise<Result<{ readonly carrierId: number }, CarrierRefusal>> {
  const taken = await nameTaken(transaction, facts.name, carrierId);
  const [row] = await transaction.select().from(carriers).where(eq(carriers.id, carrierId)).for("update");
  if (!row) return refuse("not-found");
  if (taken) return refuse("name-taken");
  if (isDeepStrictEqual(row, { ...row, ...facts })) return ok({ carrierId });
  await transaction.update(carriers).set(facts).where(eq(carriers.id, carrierId));
  const change = { subject: "carrier", subjectId: carrierId, what: "changed", before: row, after: facts };
  await recordChange(transaction, actor, change);
  return ok({ carrierId });
}

/** Nothing is sent with it any more; what it carried stays known. */
export async function retireCarrier(
  transaction: Transaction,
  actor: Actor,
  { carrierId }: { readonly carrierId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, carriers, { subject: "carrier", id: carrierId, retired: true });
}

export async function bringBackCarrier(
  transaction: Transaction,
  actor: Actor,
  { carrierId }: { readonly carrierId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, carriers, { subject: "carrier", id: carrierId, retired: false });
}

/** Names are given one at a time, so that two people cannot give the same one at once. */
async function nameTaken(transaction: Transaction, name: string, besides = 0): Promise<boolean> {
  await transaction.execute(sql`lock table ${carriers} in share row exclusive mode`);
  const another = and(ne(carriers.id, besides), sql`lower(${carriers.name}) = lower(${name})`);
  return (await transaction.$count(carriers, another)) > 0;
}
