import { Insertion } from "./insertion.ts";
import { ticksPerMinute } from "./instance.ts";
import type { Random } from "./random.ts";
import type { Schedule } from "./schedule.ts";

/** First schedule: orders by ship-by date, each served as well as is possible after those before it. */
export function build(schedule: Schedule, random: Random): void {
  const insertion = new Insertion(schedule, random, new Int32Array(schedule.instance.blends).fill(-1));
  schedule.valueHands(1e-3 / ticksPerMinute);
  const { orders, orderDue, orderWeight } = schedule.instance;
  const sequence = Array.from({ length: orders }, (_, order) => order).sort(
    (a, b) => orderDue[a]! - orderDue[b]! || orderWeight[b]! - orderWeight[a]! || a - b,
  );
  for (const order of sequence) {
    if (insertion.serve(order)) schedule.keep();
    else schedule.undo();
  }
}
