import type { Order, PlanCase } from "../planning/case.ts";
import type { Decisions, Plan } from "../planning/plan.ts";
import { planCase as findPlan, finishPlan } from "../planning/planCase.ts";
import { fillIn } from "../planning/questions/fillIn.ts";
import type { PartPromised } from "../planning/questions/partByDate.ts";
import { promise } from "../planning/questions/promise.ts";
import { afterSeconds } from "./afterSeconds.ts";
import { CallOff, type CallOffCells } from "./callOff.ts";

/** When an order can be promised beside those that are accepted. */
export interface PromiseTask {
  readonly planCase: PlanCase;
  readonly newOrder: Order;
  readonly wished: string | null;
  /** The plan the accepted orders stand by; null where there is none yet. */
  readonly decisions: Decisions | null;
  /** Whether that plan is for this very question; otherwise it is first brought up to date. */
  readonly isCurrent: boolean;
  readonly seed: number;
  /** Most wall-clock time for bringing the plan up to date, and for the promise. */
  readonly planSeconds: number;
  readonly promiseSeconds: number;
  readonly callOff: CallOffCells;
}

export interface PromiseAnswer {
  readonly earliest: string | null;
  readonly proven: boolean;
  readonly instead: PartPromised | null;
  /** The last date there are sessions for. */
  readonly lastDate: string;
  /** The plan by which the accepted orders stand, to be asked by again. */
  readonly standing: Decisions;
}

/** Whoever types waits for the answer: both together stay well below a second. */
export function promiseEffort(searchSeconds: number): Pick<PromiseTask, "planSeconds" | "promiseSeconds"> {
  return { planSeconds: Math.min(0.3, searchSeconds), promiseSeconds: Math.min(0.4, searchSeconds) };
}

/** First the plan that the others stand by, then the earliest date beside it. */
export function promiseBesideOthers(task: PromiseTask): PromiseAnswer {
  const { planCase, newOrder, wished, seed } = task;
  const callOff = new CallOff(task.callOff);
  const plan = standingPlan(task, callOff);
  const stop = callOff.watching(afterSeconds(task.promiseSeconds));
  const { earliest, proven, instead } = promise(planCase, newOrder, { seed, stop, plan, wished });
  const lastDate = planCase.sessions[planCase.sessions.length - 1]?.date ?? "";
  const { runs, supplies } = plan;
  return { earliest, proven, instead, lastDate, standing: { runs, supplies } };
}

/** What the plan leaves unserved is served in the room there is; a plan for other orders is then looked over. */
function standingPlan({ planCase, decisions, ...task }: PromiseTask, callOff: CallOff): Plan {
  if (planCase.orders.length === 0) return finishPlan(planCase, { runs: [], supplies: [] }, 0);
  const filled = decisions === null ? null : fillIn(planCase, decisions, task.seed);
  if (filled !== null && task.isCurrent) return filled;
  const stop = callOff.watching(afterSeconds(task.planSeconds));
  return findPlan(planCase, {
    seed: task.seed,
    prove: false,
    stop,
    ...(filled === null ? {} : { start: filled }),
  });
}
