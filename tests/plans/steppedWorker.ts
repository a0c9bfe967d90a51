import { existsSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { planCase as findPlan, finishPlan } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { CallOff } from "../../server/plans/callOff.ts";
import {
  askHoldUps,
  giveReasons,
  type SearchAnswer,
  type SearchTask,
} from "../../server/plans/planWorker.ts";
import { blockShortly } from "./heldWorker.ts";

export { askHoldUps, giveReasons };

/** Once these files are there the search finds its good plan, and comes to its end. */
export const betterFile: string = path.join(tmpdir(), `halfmold-better-${process.pid}`);
export const endFile: string = path.join(tmpdir(), `halfmold-end-${process.pid}`);

/** A search that first has a plan in which nobody gets anything, and a good one when a test says so. */
export function searchSeed({ planCase, seed, callOff, news }: SearchTask): SearchAnswer {
  const stop = new CallOff(callOff).watching({ progress: () => 0 });
  const waitFor = (file: string) => {
    for (; !existsSync(file); blockShortly()) stop.progress(0);
  };
  news.postMessage(finishPlan(planCase, { runs: [], supplies: [] }, 0));
  waitFor(betterFile);
  const plan = findPlan(planCase, { seed, stop: afterIterations(100) });
  news.postMessage(plan);
  waitFor(endFile);
  return { plan, isBest: false, iterationsASecond: 1 };
}
