import type { PlanCase } from "../case.ts";
import type { Decisions } from "../plan.ts";
import type { Schedule } from "./schedule.ts";

/**
 * Puts a plan into an empty schedule, so that a search can go on from it. Pieces that serve nobody are left out and
 * filler is worked out anew; false, with the schedule left empty, where that does not fit.
 */
export function readDecisions(planCase: PlanCase, decisions: Decisions, schedule: Schedule): boolean {
  const { instance } = schedule;
  const lineIndex = new Map<string, number>();
  let line = 0;
  for (const order of planCase.orders) {
    for (const { product } of order.lines) lineIndex.set(JSON.stringify([order.id, product]), line++);
  }
  for (const supply of decisions.supplies) {
    const at = lineIndex.get(JSON.stringify([supply.order, supply.product]));
    if (at === undefined || supply.units === 0) continue;
    if (supply.from === "run") {
      schedule.adopt(at, supply.session, supply.units);
      continue;
    }
    const product = instance.lineProduct[at]!;
    const drying = supply.from === "drying" ? supply.drying : -1;
    for (let ready = instance.firstReady[product]!; ready < instance.firstReady[product + 1]!; ready++) {
      if (instance.readyDrying[ready] === drying) schedule.take(at, ready, supply.units);
    }
  }
  if (!schedule.settleRuns() || schedule.isOverfull()) {
    schedule.undo();
    return false;
  }
  for (let order = 0; order < instance.orders; order++) schedule.reprice(order);
  schedule.keep();
  return true;
}
