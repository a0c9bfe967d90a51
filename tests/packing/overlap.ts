import type { TestDatabase } from "../db/testDatabase.ts";
import { untilWaiting } from "../db/untilWaiting.ts";

/**
 * Starts work while a lock is held, lets go of the lock only when so many sessions of this database wait for one,
 * and returns what the work came to.
 *
 * @param lock a statement that takes the lock, `select ... for update`.
 */
export async function whileHolding<Outcome>(
  { sql }: TestDatabase,
  lock: string,
  sessions: number,
  start: () => readonly Promise<Outcome>[],
): Promise<Outcome[]> {
  const started = await sql.begin(async (holder) => {
    await holder.unsafe(lock);
    const work = Promise.all(start());
    await untilWaiting(sql, sessions);
    return { work };
  });
  return await started.work;
}
