import { desc, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { changes } from "../../db/schema/changes.ts";
import { plans } from "../../db/schema/plans.ts";
import { ok, type Result } from "../basics/result.ts";
import { checkPlan } from "../planning/checkPlan.ts";
import { type BuiltCase, buildCase, type NoCase } from "./buildCase.ts";
import { loadFacts } from "./loadFacts.ts";
import type { Planner, PlannerRefusal } from "./plannerPool.ts";
import type { PlanAnswer } from "./planWorker.ts";

/** A plan that nobody has seen yet, with the question it answers. */
export interface MadePlan extends BuiltCase, PlanAnswer {
  readonly seed: number;
  /** The newest entry of the history that the question already knew of; 0 where there is none. */
  readonly asOfChange: number;
}

/** The same question then gets the same search: planning again without a change is no lottery. */
const SEED = 1;

/**
 * Plans the workshop as it stands at `at`. Reads everything in one moment and then lets go of the database: the search
 * takes seconds. Throws when the planner's answer breaks a rule, which would be a bug.
 */
export async function makePlan(
  db: Database,
  planner: Planner,
  at: Date,
  signal?: AbortSignal,
): Promise<Result<MadePlan, NoCase | PlannerRefusal>> {
  const question = await askQuestion(db, at);
  if (!question.ok) return question;
  const { planCase } = question.value;
  const answer = await planner.plan(planCase, { seed: SEED, ...(signal ? { signal } : {}) });
  if (!answer.ok) return answer;
  const violations = checkPlan(planCase, answer.value.plan);
  if (violations.length > 0) {
    const details = violations.map(({ rule, detail }) => `${rule}: ${detail}`);
    throw new Error(`The planner's plan is not allowed: ${details.join("; ")}`);
  }
  return ok({ ...question.value, ...answer.value, seed: SEED });
}

async function askQuestion(db: Database, at: Date) {
  return await db.transaction(
    async (transaction) => {
      // Before the snapshot is taken: a plan being accepted is then either wholly known here or wholly later.
      await transaction.execute(sql`lock table ${plans} in share mode`);
      const built = buildCase(await loadFacts(transaction), at);
      if (!built.ok) return built;
      const [newest] = await transaction
        .select({ id: changes.id })
        .from(changes)
        .orderBy(desc(changes.id))
        .limit(1);
      return ok({ ...built.value, asOfChange: newest?.id ?? 0 });
    },
    { isolationLevel: "repeatable read" },
  );
}
