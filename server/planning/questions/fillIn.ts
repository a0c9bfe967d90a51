import type { PlanCase } from "../case.ts";
import type { Decisions, Plan } from "../plan.ts";
import { finishPlan } from "../planCase.ts";
import { build } from "../search/build.ts";
import { Instance } from "../search/instance.ts";
import { Random } from "../search/random.ts";
import { readDecisions } from "../search/readPlan.ts";
import { Schedule } from "../search/schedule.ts";
import { writeDecisions } from "../search/writePlan.ts";

/**
 * Serves what a plan leaves unserved in the room it leaves free, moving nothing: a matter of milliseconds. Null where
 * the plan's decisions do not fit the case.
 */
export function fillIn(planCase: PlanCase, decisions: Decisions, seed: number): Plan | null {
  const schedule = new Schedule(new Instance(planCase));
  if (!readDecisions(planCase, decisions, schedule)) return null;
  build(schedule, new Random(seed));
  return finishPlan(planCase, writeDecisions(planCase, schedule, schedule.cells), 0);
}
