import { readFileSync } from "node:fs";
import path from "node:path";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { plans } from "../../db/schema/plans.ts";
import { projectRoot } from "../basics/projectRoot.ts";
import { ok, type Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { checkPlan } from "../planning/checkPlan.ts";
import type { HoldUps } from "../planning/questions/whatHoldsUp.ts";
import type { Question } from "./askQuestion.ts";
import type { SeededPlan } from "./searchSideBySide.ts";

/** Which planner answered: kept with every plan, so that a surprise can be looked into with the planner that made it. */
const engineVersion: string = JSON.parse(
  readFileSync(path.join(projectRoot, "package.json"), "utf8"),
).version;

/** A plan that is not kept yet, with the question it answers. */
export interface MadePlan extends Question, SeededPlan {
  readonly holdUps: HoldUps;
  readonly askedAt: Date;
  /** Whether it turned up only while it was asked what holds the workshop up. */
  readonly whileAsking: boolean;
}

/**
 * Keeps a plan whole with its question, for looking at, accepting, or planning again. Nothing follows it yet. Throws where
 * the plan breaks a rule of its question, which would be a bug of the planner.
 */
export async function proposePlan(
  transaction: Transaction,
  actor: Actor,
  made: MadePlan,
): Promise<Result<{ readonly planId: number }, never>> {
  const { planCase, plan, holdUps, seed, asOfChange } = made;
  const violations = checkPlan(planCase, plan).map(({ rule, detail }) => `${rule}: ${detail}`);
  if (violations.length > 0) throw new Error(`The planner's plan is not allowed: ${violations.join("; ")}`);
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
      plannedAt: made.askedAt,
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
