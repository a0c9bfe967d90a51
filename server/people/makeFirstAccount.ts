import { sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { people } from "../../db/schema/people.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { insertPerson } from "./addPerson.ts";
import type { NewPerson } from "./forms.ts";
import { anybodyHere } from "./queries.ts";

/** Makes the owner's account while there is nobody yet. Two visitors at once make one owner, not two. */
export async function makeFirstAccount(
  transaction: Transaction,
  at: Date,
  newcomer: NewPerson,
): Promise<Result<{ readonly personId: number }, "somebody-was-first">> {
  await transaction.execute(sql`lock table ${people} in share row exclusive mode`);
  if (await anybodyHere(transaction)) return refuse("somebody-was-first");
  return ok({ personId: await insertPerson(transaction, { personId: null, at }, newcomer, "owner") });
}
