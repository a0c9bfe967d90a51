import { and, asc, isNull, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { people } from "../../db/schema/people.ts";

export async function anybodyHere(db: Database | Transaction): Promise<boolean> {
  const [somebody] = await db.select({ id: people.id }).from(people).limit(1);
  return somebody !== undefined;
}

/** The account behind an address, unless that person has left. */
export async function findAccount(db: Database, email: string) {
  const [account] = await db
    .select({ id: people.id, passwordHash: people.passwordHash })
    .from(people)
    .where(and(sql`lower(${people.email}) = lower(${email})`, isNull(people.leftAt)));
  return account;
}

export async function listPeople(db: Database) {
  return await db
    .select({
      id: people.id,
      name: people.name,
      email: people.email,
      role: people.role,
      leftAt: people.leftAt,
    })
    .from(people)
    .orderBy(asc(people.leftAt), asc(people.name), asc(people.id));
}
