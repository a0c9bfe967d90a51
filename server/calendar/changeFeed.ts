import { desc, eq, isNull } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { calendarFeeds } from "../../db/schema/calendarFeeds.ts";
import { people } from "../../db/schema/people.ts";
import { workshop } from "../../db/schema/workshop.ts";
import type { Actor } from "../http/visitor.ts";
import { hashOfSecret, sameHash } from "../stockist/linkSecret.ts";

/** Makes the calendar's address from the hash of its secret. An older one is withdrawn: the new one goes. */
export async function makeFeed(
  transaction: Transaction,
  actor: Actor,
  { tokenHash }: { readonly tokenHash: string },
): Promise<void> {
  const renewed = await withdraw(transaction, actor);
  await transaction.insert(calendarFeeds).values({ tokenHash, madeAt: actor.at, madeBy: actor.personId });
  await recordFeed(transaction, actor, renewed ? "calendar's address renewed" : "calendar's address made");
}

/** Closes the calendar. Asked for twice it is closed once. */
export async function withdrawFeed(transaction: Transaction, actor: Actor): Promise<void> {
  if (await withdraw(transaction, actor))
    await recordFeed(transaction, actor, "calendar's address withdrawn");
}

/** The workshop's row is the lock: two addresses asked for at once come one after the other. */
async function withdraw(transaction: Transaction, actor: Actor): Promise<boolean> {
  await transaction.select({ id: workshop.id }).from(workshop).for("update");
  const withdrawn = await transaction
    .update(calendarFeeds)
    .set({ withdrawnAt: actor.at, withdrawnBy: actor.personId })
    .where(isNull(calendarFeeds.withdrawnAt))
    .returning({ id: calendarFeeds.id });
  return withdrawn.length > 0;
}

async function recordFeed(transaction: Transaction, actor: Actor, what: string): Promise<void> {
  await recordChange(transaction, actor, { subject: "workshop", subjectId: 1, what });
}

/** The open address, by whom and when it was made; null where there is none. */
export async function findOpenFeed(db: Database) {
  const [feed] = await db
    .select({ madeAt: calendarFeeds.madeAt, madeBy: people.name })
    .from(calendarFeeds)
    .innerJoin(people, eq(people.id, calendarFeeds.madeBy))
    .where(isNull(calendarFeeds.withdrawnAt))
    .orderBy(desc(calendarFeeds.id));
  return feed ?? null;
}

/** Whether a secret opens the calendar now. */
export async function opensFeed(db: Database, secret: string): Promise<boolean> {
  const hash = hashOfSecret(secret);
  const open = await db
    .select({ tokenHash: calendarFeeds.tokenHash })
    .from(calendarFeeds)
    .where(isNull(calendarFeeds.withdrawnAt));
  return open.some(({ tokenHash }) => sameHash(tokenHash, hash));
}
