import { expect } from "vitest";
import type { PlanCase } from "../../server/planning/case.ts";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import { costPlan, totalHandMinutes } from "../../server/planning/costPlan.ts";
import { finishPlan } from "../../server/planning/planCase.ts";
import { ticksPerMinute } from "../../server/planning/search/instance.ts";
import type { Schedule } from "../../server/planning/search/schedule.ts";
import { writeDecisions } from "../../server/planning/search/writePlan.ts";

/** A schedule is allowed, and the sums it keeps are those of the whole plan worked out anew. */
export function expectExactFigures(planCase: PlanCase, schedule: Schedule): void {
  const decisions = writeDecisions(planCase, schedule, schedule.cells);
  const whole = costPlan(planCase, decisions);
  expect(schedule.lateness).toBeCloseTo(whole.lateness, 6);
  const asInsistedOn = schedule.cells.subarray(
    schedule.orderCost,
    schedule.orderCost + planCase.orders.length,
  );
  expect(schedule.cells[schedule.cost]).toBeCloseTo(
    asInsistedOn.reduce((sum, cost) => sum + cost, 0),
    6,
  );
  const minutes = (schedule.cells[schedule.ticks] ?? Number.NaN) / ticksPerMinute;
  expect(minutes).toBeCloseTo(totalHandMinutes(whole.handMinutes), 6);
  expect(checkPlan(planCase, finishPlan(planCase, decisions, 0))).toEqual([]);
}
