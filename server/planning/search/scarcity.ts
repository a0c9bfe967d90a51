import type { Schedule } from "./schedule.ts";

/** How fast the memory of how full a session has been follows the schedule. */
const learning = 0.1;
/** Share of what all hands are worth that full molds of one shape, or full trays, are worth besides. */
const moldShare = 0.2;
const trayShare = 0.2;

/**
 * What room is worth in each session: hand minutes, mold places, trays. What the search has mostly filled is scarce and
 * dear, what stands empty costs nothing, so that work moves to where nobody misses the room. This is what the prices of
 * a Lagrangian relaxation say, learnt from the schedules the search goes through instead of solved for, since the
 * relaxation doesn't see the clean-downs and least bowls that fill most of a tight week.
 */
export class Scarcity {
  readonly #schedule: Schedule;
  readonly #hands: Float64Array;
  readonly #molds: Float64Array;
  readonly #trays: Float64Array;
  readonly #perMoldPlace: Float64Array;
  readonly #perTray: number;

  constructor(schedule: Schedule) {
    this.#schedule = schedule;
    const { instance } = schedule;
    const { sessions, shapes } = instance;
    this.#hands = new Float64Array(sessions).fill(1);
    this.#molds = new Float64Array(shapes * sessions);
    this.#trays = new Float64Array(sessions);
    const hands = sum(instance.handRoom);
    this.#perTray = (trayShare * hands) / Math.max(1, sum(instance.trayRoom));
    this.#perMoldPlace = Float64Array.from({ length: shapes }, (_, shape) => {
      const places = instance.moldRoom.subarray(shape * sessions, (shape + 1) * sessions);
      return (moldShare * hands) / Math.max(1, sum(places));
    });
  }

  /** Looks at the schedule as it is, and values its work anew at so many unit-days for a tick of hands in a full session. */
  value(tickPrice: number): void {
    const schedule = this.#schedule;
    const { instance, worth } = schedule;
    const { sessions, shapes } = instance;
    learn(this.#hands, schedule.cells, schedule.handLeft, instance.handRoom);
    learn(this.#molds, schedule.cells, schedule.moldLeft, instance.moldRoom);
    learn(this.#trays, schedule.cells, schedule.trayLeft, instance.trayRoom);
    for (let session = 0; session < sessions; session++) {
      worth.hands[session] = tickPrice * this.#hands[session]!;
      worth.trays[session] = tickPrice * this.#perTray * this.#trays[session]!;
    }
    for (let shape = 0; shape < shapes; shape++) {
      const price = tickPrice * this.#perMoldPlace[shape]!;
      for (let at = shape * sessions; at < (shape + 1) * sessions; at++) {
        worth.molds[at] = price * this.#molds[at]!;
      }
    }
    schedule.revalue();
  }
}

/** A session counts by the fourth power of how full it is: half full is nearly free. */
function learn(memory: Float64Array, cells: Float64Array, left: number, room: ArrayLike<number>): void {
  for (let at = 0; at < memory.length; at++) {
    const used = room[at]! > 0 ? 1 - cells[left + at]! / room[at]! : 1;
    memory[at]! += learning * (used * used * used * used - memory[at]!);
  }
}

function sum(values: ArrayLike<number>): number {
  let total = 0;
  for (let at = 0; at < values.length; at++) total += values[at]!;
  return total;
}
