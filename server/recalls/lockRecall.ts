import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recalls } from "../../db/schema/recalls.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { RecallRefusal } from "./refusals.ts";

/** Holds a recall that is not over. */
export async function lockRecall(
  transaction: Transaction,
  recallId: number,
): Promise<Result<typeof recalls.$inferSelect, RecallRefusal>> {
  const [recall] = await transaction.select().from(recalls).where(eq(recalls.id, recallId)).for("update");
  if (!recall) return refuse({ why: "no-such-recall" });
  return recall.endedAt === null ? ok(recall) : refuse({ why: "over" });
}
