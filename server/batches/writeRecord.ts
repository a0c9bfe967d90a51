import { asc, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { batchRecords, batchSprays } from "../../db/schema/batches.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { WrittenRecord } from "./forms.ts";
import { type BatchRefusal, holdRun } from "./holdRun.ts";

/** Writes down the room, the sprays of each bowl and what went otherwise; refused where somebody was faster. */
export async function writeRecord(
  transaction: Transaction,
  actor: Actor,
  { runId, version, sprays, ...record }: WrittenRecord & { readonly runId: number },
): Promise<Result<{ readonly runId: number }, BatchRefusal>> {
  const run = await holdRun(transaction, runId);
  if (!run.ok) return run;
  const [before] = await transaction.select().from(batchRecords).where(eq(batchRecords.runId, runId));
  if ((before?.version ?? 0) !== version) return refuse({ kind: "written-meanwhile" });
  const spraysBefore = await transaction
    .select()
    .from(batchSprays)
    .where(eq(batchSprays.runId, runId))
    .orderBy(asc(batchSprays.bowl));
  const written = { ...record, version: version + 1 };
  await transaction
    .insert(batchRecords)
    .values({ runId, ...written })
    .onConflictDoUpdate({ target: batchRecords.runId, set: written });
  const counted = sprays
    .slice(0, run.value.bowls)
    .flatMap((count, place) => (count === null ? [] : [{ runId, bowl: place + 1, sprays: count }]));
  await transaction.delete(batchSprays).where(eq(batchSprays.runId, runId));
  if (counted.length > 0) await transaction.insert(batchSprays).values(counted);
  await recordChange(transaction, actor, {
    subject: "run",
    subjectId: runId,
    what: "sheet written",
    before: { ...before, sprays: spraysBefore },
    after: { ...written, sprays: counted },
  });
  return ok({ runId });
}
