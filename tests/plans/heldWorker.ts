import { existsSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { CallOff } from "../../server/plans/callOff.ts";
import {
  askHoldUps,
  giveReasons,
  type SearchAnswer,
  type SearchTask,
} from "../../server/plans/planWorker.ts";

export { askHoldUps, giveReasons };

/** While this file is there, no search is finished. A thread has its process's number, so the test knows the place too. */
export const holdFile: string = path.join(tmpdir(), `halfmold-held-${process.pid}`);

/** A planner's thread with one plan that goes on as long as a test wants: it never once waits, as a search never does. */
export function searchSeed({ planCase, seed, callOff, news }: SearchTask): SearchAnswer {
  const plan = findPlan(planCase, { seed, stop: afterIterations(100) });
  news.postMessage(plan);
  const stop = new CallOff(callOff).watching({ progress: () => 0 });
  while (existsSync(holdFile)) stop.progress(0);
  return { plan, isBest: false, iterationsASecond: 1 };
}
