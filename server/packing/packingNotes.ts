import { asc, eq } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { packingNotes } from "../../db/schema/packingNotes.ts";
import { people } from "../../db/schema/people.ts";

/** What whoever packs or ships an order should know, the oldest first. */
export async function listPackingNotes(db: Database, orderId: number) {
  return await db
    .select({ id: packingNotes.id, words: packingNotes.words, at: packingNotes.at, person: people.name })
    .from(packingNotes)
    .leftJoin(people, eq(people.id, packingNotes.personId))
    .where(eq(packingNotes.orderId, orderId))
    .orderBy(asc(packingNotes.id));
}
