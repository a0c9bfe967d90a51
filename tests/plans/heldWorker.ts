import { existsSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { type PlanAnswer, type PlanTask, answerTask as plan } from "../../server/plans/planWorker.ts";

/** While this file is there, no plan is finished. A thread has its process's number, so the test knows the place too. */
export const holdFile: string = path.join(tmpdir(), `halfmold-held-${process.pid}`);

/** The planner's thread, kept busy for as long as a test wants: it never once waits, as a search never does. */
export function answerTask(task: PlanTask): PlanAnswer {
  const answer = plan(task);
  while (existsSync(holdFile));
  return answer;
}
