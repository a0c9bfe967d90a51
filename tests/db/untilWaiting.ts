import type { Sql } from "postgres";

/**
 * Resolves once so many connections to this database wait for a lock: the moment at which a race that a test
 * wants to see is certain. Throws after fifteen seconds.
 */
export async function untilWaiting(sql: Sql, connections: number): Promise<void> {
  const deadline = Date.now() + 15_000;
  for (;;) {
    const waiting = await sql`
      select 1 from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'`;
    if (waiting.length >= connections) return;
    if (Date.now() > deadline)
      throw new Error(`Only ${waiting.length} of ${connections} connections came to wait`);
  }
}
