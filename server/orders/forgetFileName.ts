import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { fileMeanings } from "../../db/schema/fileMeanings.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";

/** Forgets what a name in files means: the next file that has it asks again. */
export async function forgetFileName(
  transaction: Transaction,
  actor: Actor,
  meaningId: number,
): Promise<Result<null, "not-found">> {
  const [row] = await transaction.delete(fileMeanings).where(eq(fileMeanings.id, meaningId)).returning();
  if (!row) return refuse("not-found");
  await recordChange(transaction, actor, {
    subject: "file name",
    subjectId: row.id,
    what: "forgotten",
    before: row,
  });
  return ok(null);
}
