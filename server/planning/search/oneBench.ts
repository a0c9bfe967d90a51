import { type Instance, marketDays, marketTerms } from "./instance.ts";
import type { Schedule } from "./schedule.ts";

/**
 * The workshop seen as one bench at which orders stand in line, each for the hands it takes: a coarse look, cheap enough
 * for thousands of tries, and an exact one where a single limit binds everything. How much can be ready by which day is
 * what a schedule shows.
 */
export class OneBench {
  /** By order: ticks of hands that all its pieces take, with their shares of bowls. */
  readonly work: Float64Array;
  readonly #schedule: Schedule;
  readonly #workOfPiece: Float64Array;
  readonly #firstDay: number;
  /** By day from `#firstDay`: work that is ready up to it. */
  readonly #readyBy: Float64Array;

  constructor(schedule: Schedule) {
    const { instance } = schedule;
    this.#schedule = schedule;
    this.#workOfPiece = workOfPieces(instance);
    this.work = new Float64Array(instance.orders);
    for (let line = 0; line < instance.lines; line++) {
      const ofPiece = this.#workOfPiece[instance.lineProduct[line]!]!;
      this.work[instance.lineOrder[line]!]! += ofPiece * instance.lineUnits[line]!;
    }
    let firstDay = Number.POSITIVE_INFINITY;
    let lastDay = Number.NEGATIVE_INFINITY;
    for (let cell = 0; cell < instance.pack.length; cell++) {
      if (instance.pack[cell]! < 0) continue;
      firstDay = Math.min(firstDay, instance.readyDay[cell]!);
      lastDay = Math.max(lastDay, instance.readyDay[cell]!);
    }
    this.#firstDay = firstDay;
    this.#readyBy = new Float64Array(firstDay > lastDay ? 0 : lastDay - firstDay + 1);
  }

  /** Notes how much work the schedule has ready by which day. */
  look(): void {
    const { cells, units, instance } = this.#schedule;
    const { sessions, products, shapeOf, readyDay } = instance;
    const readyBy = this.#readyBy;
    readyBy.fill(0);
    for (let product = 0; product < products; product++) {
      const shape = shapeOf[product]! * sessions;
      for (let session = 0; session < sessions; session++) {
        const made = cells[units + product * sessions + session]!;
        if (made === 0) continue;
        readyBy[readyDay[shape + session]! - this.#firstDay]! += made * this.#workOfPiece[product]!;
      }
    }
    for (let day = 1; day < readyBy.length; day++) readyBy[day]! += readyBy[day - 1]!;
  }

  /** What an order's lateness costs, in unit-days, when so many ticks of work end with it. */
  costAfter(order: number, work: number): number {
    const { orderDue, orderWeight, orderUnits, orderTerms } = this.#schedule.instance;
    const late = this.#dayAfter(work) - orderDue[order]!;
    if (late <= 0) return 0;
    const days = orderTerms[order] === marketTerms ? marketDays : late;
    return orderWeight[order]! * orderUnits[order]! * days;
  }

  #dayAfter(work: number): number {
    const readyBy = this.#readyBy;
    let high = readyBy.length - 1;
    if (high < 0 || readyBy[high]! < work) return this.#firstDay + readyBy.length + marketDays;
    let low = 0;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (readyBy[middle]! >= work) high = middle;
      else low = middle + 1;
    }
    return this.#firstDay + low;
  }
}

function workOfPieces(instance: Instance): Float64Array {
  const { products, shapeOf, weightOf, formTicks, turnTicks, unmoldTicks, packTicks } = instance;
  return Float64Array.from({ length: products }, (_, product) => {
    const shape = shapeOf[product]!;
    const bowl = Math.round((instance.mixTicks * weightOf[product]!) / instance.bowlGrams);
    return formTicks[shape]! + turnTicks[shape]! + unmoldTicks[shape]! + packTicks[shape]! + bowl;
  });
}
