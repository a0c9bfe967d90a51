import { sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { plans } from "../../db/schema/plans.ts";
import { type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { acceptPlan } from "./acceptPlan.ts";
import type { Obstacle } from "./findObstacle.ts";
import type { PlanSearch, ShownPlan } from "./planSearch.ts";
import { type MadePlan, proposePlan } from "./proposePlan.ts";

/** Keeps a plan that was shown while its search ran, and follows it from now on; refused, nothing of it is kept. */
export async function takePlan(
  transaction: Transaction,
  actor: Actor,
  search: PlanSearch,
  shown: ShownPlan,
): Promise<Result<{ readonly planId: number }, Obstacle>> {
  // Before the plan is written: two who each wrote one would wait for each other here for ever.
  await transaction.execute(sql`lock table ${plans} in share row exclusive mode`);
  const planId = search.keptAs(shown) ?? (await keep(transaction, actor, search.unfinished(shown)));
  const accepted = await acceptPlan(transaction, actor, { planId });
  if (accepted.ok) return accepted;
  if (accepted.refusal.kind === "not-found") throw new Error(`Plan ${planId} was kept and is not there`);
  return refuse(accepted.refusal);
}

async function keep(transaction: Transaction, actor: Actor, made: MadePlan): Promise<number> {
  const kept = await proposePlan(transaction, actor, made);
  if (!kept.ok) throw new Error("A proposed plan is never refused");
  return kept.value.planId;
}
