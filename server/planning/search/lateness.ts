import { asReadyTerms, completeTerms, marketDays } from "./instance.ts";
import type { ScheduleState } from "./scheduleState.ts";

/** Day number on which the last unit that the order has becomes ready; negative infinity where it has none. */
export function lastDay(state: ScheduleState, order: number): number {
  const { instance, cells } = state;
  let last = Number.NEGATIVE_INFINITY;
  for (let line = instance.firstLine[order]!; line < instance.firstLine[order + 1]!; line++) {
    const product = instance.lineProduct[line]!;
    const firstReady = instance.firstReady[product]!;
    const takenCell = state.taken + state.takenOfLine[line]!;
    for (let ready = firstReady; ready < instance.firstReady[product + 1]!; ready++) {
      if (cells[takenCell + ready - firstReady]! > 0) last = Math.max(last, instance.readyDays[ready]!);
    }
    const made = state.made + line * instance.sessions;
    const shape = instance.shapeOf[product]! * instance.sessions;
    for (let session = 0; session < instance.sessions; session++) {
      if (cells[made + session]! > 0) last = Math.max(last, instance.readyDay[shape + session]!);
    }
  }
  return last;
}

/**
 * What an order's lateness costs, in unit-days and as the search insists on it, when so many of its units are missing and
 * the last of the others is ready on that day.
 */
export function latenessCost(state: ScheduleState, order: number, short: number, last: number): number {
  const { instance, cells } = state;
  const terms = instance.orderTerms[order]!;
  const due = instance.orderDue[order]!;
  const weight = instance.orderWeight[order]! * state.insistence[order]!;
  const never = instance.orderNever[order]!;
  if (terms === completeTerms) {
    const days = short > 0 ? never : Math.max(0, last - due);
    return weight * instance.orderUnits[order]! * days;
  }
  if (terms !== asReadyTerms) return weight * marketDays * short;
  let unitDays = short * never;
  for (let line = instance.firstLine[order]!; line < instance.firstLine[order + 1]!; line++) {
    const product = instance.lineProduct[line]!;
    const firstReady = instance.firstReady[product]!;
    const takenCell = state.taken + state.takenOfLine[line]!;
    for (let ready = firstReady; ready < instance.firstReady[product + 1]!; ready++) {
      unitDays += cells[takenCell + ready - firstReady]! * Math.max(0, instance.readyDays[ready]! - due);
    }
    const made = state.made + line * instance.sessions;
    const shape = instance.shapeOf[product]! * instance.sessions;
    for (let session = 0; session < instance.sessions; session++) {
      const units = cells[made + session]!;
      if (units > 0) unitDays += units * Math.max(0, instance.readyDay[shape + session]! - due);
    }
  }
  return weight * unitDays;
}
