import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { batchTicks } from "../../db/schema/batches.ts";
import { recipeParts } from "../../db/schema/recipes.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { Tick } from "./forms.ts";
import { type BatchRefusal, holdRun } from "./holdRun.ts";

/** A part is weighed into a bowl, or is not after all. Ticked by two at once it is ticked once, by the first. */
export async function tickPart(
  transaction: Transaction,
  actor: Actor,
  { runId, bowl, place, ticked }: Tick & { readonly runId: number },
): Promise<Result<{ readonly runId: number }, BatchRefusal>> {
  const run = await holdRun(transaction, runId);
  if (!run.ok) return run;
  const { recipeId, bowls } = run.value;
  if (bowl > bowls || recipeId === null) return refuse({ kind: "no-such-part" });
  const [part] = await transaction
    .select({ supplyId: recipeParts.supplyId })
    .from(recipeParts)
    .where(and(eq(recipeParts.recipeId, recipeId), eq(recipeParts.place, place)));
  if (!part) return refuse({ kind: "no-such-part" });
  const tick = { runId, bowl, place };
  const changed =
    ticked === "yes"
      ? await transaction
          .insert(batchTicks)
          .values({ ...tick, at: actor.at, personId: actor.personId })
          .onConflictDoNothing()
          .returning()
      : await transaction
          .delete(batchTicks)
          .where(and(eq(batchTicks.runId, runId), eq(batchTicks.bowl, bowl), eq(batchTicks.place, place)))
          .returning();
  if (changed.length > 0)
    await recordChange(transaction, actor, {
      subject: "run",
      subjectId: runId,
      what: ticked === "yes" ? "weighed" : "not weighed",
      before: ticked === "yes" ? undefined : changed[0],
      after: { bowl, place, ...part },
    });
  return ok({ runId });
}
