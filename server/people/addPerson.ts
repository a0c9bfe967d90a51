import { sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { people } from "../../db/schema/people.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { NewPerson } from "./forms.ts";
import { hashPassword } from "./passwords.ts";

/** Lets a helper in: bench, shelf, packing and delivery, but not prices, people or setup. */
export async function addHelper(
  transaction: Transaction,
  actor: Actor,
  newcomer: NewPerson,
): Promise<Result<{ readonly personId: number }, "address-taken">> {
  await transaction.execute(sql`lock table ${people} in share row exclusive mode`);
  const [taken] = await transaction
    .select({ id: people.id })
    .from(people)
    .where(sql`lower(${people.email}) = lower(${newcomer.email})`);
  if (taken) return refuse("address-taken");
  return ok({ personId: await insertPerson(transaction, actor, newcomer, "helper") });
}

/** The row and its change; the password itself is kept nowhere. */
export async function insertPerson(
  transaction: Transaction,
  actor: { readonly personId: number | null; readonly at: Date },
  newcomer: NewPerson,
  role: "owner" | "helper",
): Promise<number> {
  const { name, email } = newcomer;
  const passwordHash = await hashPassword(newcomer.password);
  const [row] = await transaction
    .insert(people)
    .values({ name, email, role, passwordHash, createdAt: actor.at })
    .returning({ id: people.id });
  if (!row) throw new Error("The new person's row did not come back");
  await recordChange(
    transaction,
    { personId: actor.personId ?? row.id, at: actor.at },
    { subject: "person", subjectId: row.id, what: "let in", after: { name, email, role } },
  );
  return row.id;
}
