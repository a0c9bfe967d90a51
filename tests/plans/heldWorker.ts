import { appendFileSync, existsSync, readFileSync } from "node:fs";
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

/** Grows by a sign with every search that is held. */
export const heldFile: string = `${holdFile}-count`;

/** How many searches have been held so far; one that is called off stays counted. */
export function heldSearches(): number {
  return existsSync(heldFile) ? readFileSync(heldFile).length : 0;
}

/** Between two looks at a file: the thread hears as little as in a search, but leaves the machine to others. */
export function blockShortly(): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5);
}

/** A planner's thread with one plan that goes on as long as a test wants, and hears nothing but its stop meanwhile. */
export function searchSeed({ planCase, seed, callOff, news }: SearchTask): SearchAnswer {
  const plan = findPlan(planCase, { seed, stop: afterIterations(100) });
  news.postMessage(plan);
  const stop = new CallOff(callOff).watching({ progress: () => 0 });
  if (existsSync(holdFile)) appendFileSync(heldFile, ".");
  for (; existsSync(holdFile); blockShortly()) stop.progress(0);
  return { plan, isBest: false, iterationsASecond: 1 };
}
