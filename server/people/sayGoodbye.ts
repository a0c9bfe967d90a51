import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { people, signIns } from "../../db/schema/people.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";

/** Marks that somebody has left: they are signed out everywhere and cannot come back in; their work keeps their name. */
export async function sayGoodbye(
  transaction: Transaction,
  actor: Actor,
  personId: number,
): Promise<Result<null, "not-found" | "owner-stays">> {
  const [person] = await transaction.select().from(people).where(eq(people.id, personId)).for("update");
  if (!person || person.leftAt) return refuse("not-found");
  if (person.role === "owner") return refuse("owner-stays");
  await transaction.update(people).set({ leftAt: actor.at }).where(eq(people.id, personId));
  await transaction.delete(signIns).where(eq(signIns.personId, personId));
  await recordChange(transaction, actor, { subject: "person", subjectId: personId, what: "left" });
  return ok(null);
}
