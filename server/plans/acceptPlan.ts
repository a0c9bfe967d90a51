import { and, asc, eq, inArray, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots } from "../../db/schema/lots.ts";
import { plans, runs } from "../../db/schema/plans.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { findObstacle, type Obstacle } from "./findObstacle.ts";
import { readKeptPlan } from "./keptPlan.ts";
import { writeRuns } from "./writeRuns.ts";

/**
 * Makes a proposed plan the one the workshop follows: its runs and lots appear on the bench, and what an earlier plan
 * had planned and nobody has begun is withdrawn. Work begun never moves. Accepting the followed plan again does nothing.
 */
export async function acceptPlan(
  transaction: Transaction,
  actor: Actor,
  { planId }: { readonly planId: number },
): Promise<Result<{ readonly planId: number }, Obstacle | { readonly kind: "not-found" }>> {
  // One acceptance at a time; who waited here sees what the other has done.
  await transaction.execute(sql`lock table ${plans} in share row exclusive mode`);
  const [row] = await transaction.select().from(plans).where(eq(plans.id, planId));
  if (!row) return refuse({ kind: "not-found" });
  if (row.state === "accepted") return ok({ planId });
  const kept = readKeptPlan(row);
  // Before looking at the workshop: what is planned can't be begun any more while this decides.
  const planned = await lockPlannedWork(transaction);
  const obstacle = await findObstacle(transaction, row, kept, actor.at);
  if (obstacle !== null) return refuse(obstacle);

  await supersede(transaction, actor, planned);
  await transaction
    .update(plans)
    .set({ state: "accepted", acceptedAt: actor.at, acceptedBy: actor.personId })
    .where(eq(plans.id, planId));
  const codes = await writeRuns(transaction, actor, planId, kept);
  await recordChange(transaction, actor, {
    subject: "plan",
    subjectId: planId,
    what: "accepted",
    before: { state: "proposed" },
    after: { state: "accepted", lots: codes },
  });
  return ok({ planId });
}

interface PlannedWork {
  readonly runIds: readonly number[];
  readonly lots: readonly { readonly id: number; readonly code: string }[];
}

/** Runs nobody has begun and their lots, held until the end of the transaction. */
async function lockPlannedWork(transaction: Transaction): Promise<PlannedWork> {
  const plannedRuns = await transaction
    .select({ id: runs.id })
    .from(runs)
    .where(eq(runs.state, "planned"))
    .orderBy(asc(runs.id))
    .for("update");
  const runIds = plannedRuns.map(({ id }) => id);
  const plannedLots = await transaction
    .select({ id: lots.id, code: lots.code })
    .from(lots)
    .where(and(inArray(lots.runId, runIds), eq(lots.state, "planned")))
    .orderBy(asc(lots.id))
    .for("update");
  return { runIds, lots: plannedLots };
}

async function supersede(transaction: Transaction, actor: Actor, planned: PlannedWork): Promise<void> {
  const superseded = await transaction
    .update(plans)
    .set({ state: "superseded" })
    .where(eq(plans.state, "accepted"))
    .returning({ id: plans.id });
  await transaction
    .update(lots)
    .set({ state: "withdrawn" })
    .where(
      inArray(
        lots.id,
        planned.lots.map(({ id }) => id),
      ),
    );
  await transaction.update(runs).set({ state: "withdrawn" }).where(inArray(runs.id, planned.runIds));
  for (const { id } of planned.lots) {
    await recordChange(transaction, actor, {
      subject: "lot",
      subjectId: id,
      what: "withdrawn",
      before: { state: "planned" },
      after: { state: "withdrawn" },
    });
  }
  for (const { id } of superseded) {
    await recordChange(transaction, actor, {
      subject: "plan",
      subjectId: id,
      what: "superseded",
      before: { state: "accepted" },
      after: { state: "superseded", withdrawnLots: planned.lots.map(({ code }) => code) },
    });
  }
}
