import type { PlanCase } from "../case.ts";
import type { Decisions, Run, RunPieces, Supply } from "../plan.ts";
import type { Schedule } from "./schedule.ts";

/** Reads the decisions out of a schedule's cells; runs of a session stand light before dark. */
export function writeDecisions(planCase: PlanCase, schedule: Schedule, cells: Float64Array): Decisions {
  return { runs: runsOf(planCase, schedule, cells), supplies: suppliesOf(planCase, schedule, cells) };
}

function runsOf(planCase: PlanCase, schedule: Schedule, cells: Float64Array): readonly Run[] {
  const { instance } = schedule;
  const lightFirst = planCase.blends
    .map((blend, index) => ({ ...blend, index }))
    .sort((a, b) => a.shade - b.shade || (a.id < b.id ? -1 : 1));
  const runs: Run[] = [];
  for (let session = 0; session < instance.sessions; session++) {
    for (const { id, index } of lightFirst) {
      const bowls = cells[schedule.bowls + index * instance.sessions + session]!;
      if (bowls === 0) continue;
      const pieces: RunPieces[] = [];
      for (let at = instance.firstProduct[index]!; at < instance.firstProduct[index + 1]!; at++) {
        const product = instance.productsOfBlend[at]!;
        const units = cells[schedule.units + product * instance.sessions + session]!;
        if (units > 0) pieces.push({ product: planCase.products[product]!.id, units });
      }
      runs.push({ session, blend: id, bowls, pieces });
    }
  }
  return runs;
}

function suppliesOf(planCase: PlanCase, schedule: Schedule, cells: Float64Array): readonly Supply[] {
  const { instance } = schedule;
  const supplies: Supply[] = [];
  for (let line = 0; line < instance.lines; line++) {
    const index = instance.lineProduct[line]!;
    const order = planCase.orders[instance.lineOrder[line]!]!.id;
    const product = planCase.products[index]!.id;
    const firstReady = instance.firstReady[index]!;
    for (let ready = firstReady; ready < instance.firstReady[index + 1]!; ready++) {
      const units = cells[schedule.taken + schedule.takenOfLine[line]! + ready - firstReady]!;
      const drying = instance.readyDrying[ready]!;
      if (units === 0) continue;
      supplies.push(
        drying < 0
          ? { order, product, units, from: "stock" }
          : { order, product, units, from: "drying", drying },
      );
    }
    for (let session = 0; session < instance.sessions; session++) {
      const units = cells[schedule.made + line * instance.sessions + session]!;
      if (units > 0) supplies.push({ order, product, units, from: "run", session });
    }
  }
  return supplies;
}
