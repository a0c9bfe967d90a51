import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { markets } from "../../db/schema/markets.ts";

export type HeldMarket = typeof markets.$inferSelect;

/**
 * Holds a market until the transaction ends: after the references of orders, where one is to be given out, and before its
 * order, the order's lines and the lots.
 */
export async function holdMarket(
  transaction: Transaction,
  marketId: number,
): Promise<HeldMarket | undefined> {
  const [market] = await transaction.select().from(markets).where(eq(markets.id, marketId)).for("update");
  return market;
}
