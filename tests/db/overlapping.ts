import type { Sql, TransactionSql } from "postgres";
import { untilWaiting } from "./untilWaiting.ts";

/**
 * Forces an overlap: holds what `hold` locks on a connection of its own, starts the work, waits until all of it waits
 * for a lock, lets go, and answers what the work answered. Whatever happens, nothing stays locked.
 */
export async function overlapping<Answer>(
  sql: Sql,
  hold: (gate: TransactionSql) => Promise<unknown>,
  work: readonly (() => Promise<Answer>)[],
): Promise<readonly Answer[]> {
  // A list in an object, as a transaction that ends with a promise would wait for it, still holding the lock.
  const { running } = await sql.begin(async (gate) => {
    await hold(gate);
    const started = { running: work.map((start) => start()) };
    await untilWaiting(sql, work.length);
    return started;
  });
  return await Promise.all(running);
}
