import type { MessagePort } from "node:worker_threads";
import type { Result } from "../basics/result.ts";
import type { PlanCase } from "../planning/case.ts";
import { proveBound, type TooLarge } from "./proveBound.ts";

/** What a proof's thread is given. */
export interface ProverTask {
  readonly planCase: PlanCase;
  /** Shared with whoever asked: the cost of the best plan known, in unit-days. */
  readonly knownCost: Float64Array<SharedArrayBuffer>;
  /** Where every higher bound is told, in unit-days; closed by whoever listens. */
  readonly news: MessagePort;
}

/** Ends with the highest bound when it reaches what the best plan costs, or when nothing more can be proven. */
export async function proveForOthers(task: ProverTask): Promise<Result<number, TooLarge>> {
  const { planCase, knownCost, news } = task;
  return await proveBound(planCase, {
    isOver: (bound) => bound >= (knownCost[0] ?? 0) * (1 - 1e-9),
    onBetter: (bound) => news.postMessage(bound),
  });
}
