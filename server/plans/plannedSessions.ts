import { eq, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { plans } from "../../db/schema/plans.ts";

/** A session of the plan that is followed, as the plan counts on it. */
export interface PlannedSession {
  /** The workshop's own date. */
  readonly date: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly handMinutes: number;
}

/**
 * The sessions of the plan the workshop follows, in time order; none where it follows none. Read from the kept case and
 * the instants kept beside it, without the rest of the plan.
 */
export async function listPlannedSessions(db: Database | Transaction): Promise<readonly PlannedSession[]> {
  const [row] = await db
    .select({
      sessions: sql<readonly { readonly date: string; readonly handMinutes: number }[] | null>`
        ${plans.planCase} -> 'sessions'`,
      instants: sql<
        readonly { readonly startsAt: string; readonly endsAt: string }[]
      >`${plans.sessionInstants}`,
    })
    .from(plans)
    .where(eq(plans.state, "accepted"));
  return (row?.instants ?? []).flatMap(({ startsAt, endsAt }, place) => {
    const session = row?.sessions?.[place];
    if (session === undefined) return [];
    const { date, handMinutes } = session;
    return [{ date, handMinutes, startsAt: new Date(startsAt), endsAt: new Date(endsAt) }];
  });
}
