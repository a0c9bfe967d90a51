import { existsSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { finishPlan } from "../../server/planning/planCase.ts";
import { CallOff } from "../../server/plans/callOff.ts";
import {
  giveReasons,
  type HoldUpAnswer,
  type HoldUpTask,
  askHoldUps as reallyAsk,
  type SearchAnswer,
  type SearchTask,
} from "../../server/plans/planWorker.ts";
import { blockShortly } from "./heldWorker.ts";

export { giveReasons };

/** While these files are there, the search goes on, and then the asking what holds the workshop up. */
export const searchingFile: string = path.join(tmpdir(), `halfmold-searching-${process.pid}`);
export const askingFile: string = path.join(tmpdir(), `halfmold-asking-${process.pid}`);

/** A search with one plan, in which nobody gets anything and about which nothing is proven. */
export function searchSeed({ planCase, callOff, news }: SearchTask): SearchAnswer {
  const stop = new CallOff(callOff).watching({ progress: () => 0 });
  const plan = finishPlan(planCase, { runs: [], supplies: [] }, 0);
  news.postMessage(plan);
  for (; existsSync(searchingFile); blockShortly()) stop.progress(0);
  return { plan, isBest: false, iterationsASecond: 1 };
}

export function askHoldUps(task: HoldUpTask): HoldUpAnswer {
  const stop = new CallOff(task.callOff).watching({ progress: () => 0 });
  for (; existsSync(askingFile); blockShortly()) stop.progress(0);
  return reallyAsk(task);
}
