import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { lotBalances } from "../../db/schema/sums.ts";

export type LockedLot = typeof lots.$inferSelect & {
  /** Pieces there are, as nobody else can change until the transaction ends. */
  readonly balance: number;
};

/**
 * Holds a lot and reads how many pieces it has; null where there is no such lot. The sum is read by a statement of
 * its own, after the lock, so that it knows what the one waited for has written.
 */
export async function lockLot(transaction: Transaction, lotId: number): Promise<LockedLot | null> {
  const [lot] = await transaction.select().from(lots).where(eq(lots.id, lotId)).for("update");
  if (!lot) return null;
  const [sum] = await transaction
    .select({ units: lotBalances.units })
    .from(lotBalances)
    .where(eq(lotBalances.lotId, lotId));
  return { ...lot, balance: sum?.units ?? 0 };
}
