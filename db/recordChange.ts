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

/** Writes down who changed what and when, in the transaction of the change itself. */
export async function recordChange(
  transaction: Transaction,
  actor: { readonly personId: number | null; readonly at: Date },
  change: Change,
): Promise<void> {
  await transaction.insert(changes).values({ ...change, personId: actor.personId, at: actor.at });
}
