import { desc, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { changes } from "../../db/schema/changes.ts";
import { plans } from "../../db/schema/plans.ts";
import { ok, type Result } from "../basics/result.ts";
import { type BuiltCase, buildCase, type NoCase } from "./buildCase.ts";
import { loadFacts } from "./loadFacts.ts";

/** A question for the planner as the workshop stood at one moment. */
export interface Question extends BuiltCase {
  /** The newest entry of the history that the question already knew of; 0 where there is none. */
  readonly asOfChange: number;
}

/** Reads the workshop as it stands at `at`, all of one moment, and lets go of the database: searching takes seconds. */
export async function askQuestion(db: Database, at: Date): Promise<Result<Question, NoCase>> {
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
