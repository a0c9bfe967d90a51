import { readFileSync } from "node:fs";
import path from "node:path";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { plans } from "../../db/schema/plans.ts";
import { projectRoot } from "../basics/projectRoot.ts";
import { ok, type Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { MadePlan } from "./makePlan.ts";

/** Which planner answered: kept with every plan, so that a surprise can be looked into with the planner that made it. */
const engineVersion: string = JSON.parse(
  readFileSync(path.join(projectRoot, "package.json"), "utf8"),
).version;

/** Keeps a plan whole with its question, for looking at, accepting, or planning again. Nothing follows it yet. */
export async function proposePlan(
  transaction: Transaction,
  actor: Actor,
  made: MadePlan,
): Promise<Result<{ readonly planId: number }, never>> {
  const { planCase, plan, holdUps, seed, asOfChange } = made;
  const [row] = await transaction
    .insert(plans)
    .values({
      state: "proposed",
      planCase,
      answer: plan,
      holdUps,
      sessionInstants: made.sessionInstants.map(({ startsAt, endsAt }) => ({
        startsAt: startsAt.toISOString(),
        endsAt: endsAt.toISOString(),
      })),
      seed,
      engineVersion,
      asOfChange,
      plannedAt: actor.at,
      plannedBy: actor.personId,
    })
    .returning({ id: plans.id });
  if (!row) throw new Error("The new plan's row did not come back");
  await recordChange(transaction, actor, {
    subject: "plan",
    subjectId: row.id,
    what: "proposed",
    after: { cost: plan.cost, runs: plan.runs.length },
  });
  return ok({ planId: row.id });
}
