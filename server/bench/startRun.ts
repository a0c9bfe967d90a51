import { and, desc, eq, type SQL, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { bowls } from "../../db/schema/bowls.ts";
import { changes } from "../../db/schema/changes.ts";
import { lots } from "../../db/schema/lots.ts";
import { people } from "../../db/schema/people.ts";
import { plans, runs } from "../../db/schema/plans.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { recipeOn } from "../recipes/inForce.ts";
import { weighOutRun } from "../supplies/weighRun.ts";
import type { BenchRefusal } from "./refusals.ts";

/**
 * The first bowl of a planned run is being weighed from now on, by the recipe that holds today; the run keeps that
 * version whatever is written later, and what it takes is booked from the lots it is weighed from. Whoever accepts
 * another plan holds all planned runs before he takes this one's plan away, so holding the run is enough to know that
 * the plan is still followed.
 */
export async function startRun(
  transaction: Transaction,
  actor: Actor,
  { runId }: { readonly runId: number },
): Promise<Result<{ readonly runId: number }, BenchRefusal>> {
  const [run] = await transaction.select().from(runs).where(eq(runs.id, runId)).for("update");
  if (!run) return refuse({ kind: "no-such-run" });
  if (run.startedAt !== null) {
    return refuse({ kind: "already-started", by: await whoStarted(transaction, runId), at: run.startedAt });
  }
  if (run.state !== "planned" || !(await isFollowed(transaction, run.planId))) {
    return refuse({ kind: "not-in-accepted-plan" });
  }
  const [holds] = await transaction
    .select({ recipeId: recipeOn(sql`${run.blendId}::integer`, todayIn(actor.at)) })
    .from(workshop);
  const recipeId = holds?.recipeId ?? null;
  await transaction
    .update(runs)
    .set({ state: "mixing", startedAt: actor.at, recipeId })
    .where(eq(runs.id, runId));
  await transaction
    .update(lots)
    .set({ state: "mixing" })
    .where(and(eq(lots.runId, runId), eq(lots.state, "planned")));
  await weighOutRun(transaction, actor, { runId, recipeId });
  await transaction.insert(bowls).values({ runId, bowl: 1, startedAt: actor.at, personId: actor.personId });
  await recordChange(transaction, actor, {
    subject: "run",
    subjectId: runId,
    what: "started",
    before: { state: "planned" },
    after: { state: "mixing", recipeId },
  });
  return ok({ runId });
}

/** The workshop's calendar date of an instant. */
function todayIn(at: Date): SQL {
  return sql`(${at.toISOString()}::timestamptz at time zone ${workshop.timeZone})::date`;
}

/** Whether a plan is the one the workshop follows. */
export async function isFollowed(transaction: Transaction, planId: number): Promise<boolean> {
  const [plan] = await transaction.select({ state: plans.state }).from(plans).where(eq(plans.id, planId));
  return plan?.state === "accepted";
}

async function whoStarted(transaction: Transaction, runId: number): Promise<string | null> {
  const [change] = await transaction
    .select({ name: people.name })
    .from(changes)
    .innerJoin(people, eq(people.id, changes.personId))
    .where(and(eq(changes.subject, "run"), eq(changes.subjectId, runId), eq(changes.what, "started")))
    .orderBy(desc(changes.id))
    .limit(1);
  return change?.name ?? null;
}
