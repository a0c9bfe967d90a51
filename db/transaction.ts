import { setTimeout as pause } from "node:timers/promises";
import type { Database, Transaction } from "./connect.ts";
import { sqlState } from "./sqlState.ts";

const MOST_ATTEMPTS = 5;

/** Postgres manual, appendix A: serialization_failure and deadlock_detected. Both mean "nothing was done, try again". */
const TRY_AGAIN: ReadonlySet<string> = new Set(["40001", "40P01"]);

/**
 * Runs `work` in one transaction and returns what it returned. Postgres picks a victim when two transactions wait
 * for each other or could not have run one after the other; the victim is rolled back whole and run again, at most
 * five times in all. `work` must therefore do nothing but read and write through the transaction it is given.
 */
export async function inTransaction<Value>(
  db: Database,
  work: (transaction: Transaction) => Promise<Value>,
): Promise<Value> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await db.transaction(work);
    } catch (error) {
      const state = sqlState(error);
      if (state === undefined || !TRY_AGAIN.has(state) || attempt === MOST_ATTEMPTS) throw error;
    }
    // Of different length for each, or two victims of one another would meet again.
    await pause(Math.random() * 10 * 2 ** attempt);
  }
}
