import type { Transaction } from "./connect.ts";
import { changes } from "./schema/changes.ts";

/** One change of one thing: what it was about, what happened, and the facts before and after. */
interface Change {
  readonly subject: string;
  readonly subjectId: number;
  /** A past participle, such as "confirmed". */
  readonly what: string;
  readonly before?: unknown;
  readonly after?: unknown;
}

/** Who did something and when; null for what the system did itself. */
export interface Author {
  readonly personId: number | null;
  readonly at: Date;
}

/** Writes down who changed what and when, in the transaction of the change itself. */
export async function recordChange(transaction: Transaction, actor: Author, change: Change): Promise<void> {
  await transaction.insert(changes).values({ ...change, personId: actor.personId, at: actor.at });
}
