import type { Order } from "../case.ts";
import type { Plan } from "../plan.ts";
import { planCase as findPlan } from "../planCase.ts";
import type { Stop } from "../stop.ts";
import { aloneDate } from "./aloneDate.ts";
import { fillIn } from "./fillIn.ts";
import type { SafeDate, Standing } from "./standing.ts";

export interface Earliest {
  readonly safe: SafeDate | null;
  /** No plan has the order ready before this date. */
  readonly notBefore: string;
  /** Of the sessions there are. */
  readonly lastDate: string;
}

/**
 * What a unit-day of an accepted order weighs beside one of the new order while the search looks about. It is free to
 * pass through plans that make others wait, but none of them counts as an answer.
 */
export const acceptedWeight = 3;

/** The earliest date found for a new order, from the first that moves nothing to the date it could have alone. */
export function earliestDate(
  standing: Standing,
  newOrder: Order,
  seed: number,
  stop: Stop,
  heard: (safe: SafeDate) => void,
): Earliest {
  const { notBefore } = aloneDate(standing.planCase, newOrder);
  const lastDate = standing.planCase.sessions.at(-1)!.date;
  let safe: SafeDate | null = null;
  if (notBefore > lastDate) return { safe, notBefore, lastDate };
  // Due on the date it could have alone, its lateness is what sharing costs it.
  const question = standing.with(
    { ...newOrder, terms: "complete", weight: 1, shipBy: notBefore },
    acceptedWeight,
  );
  const hear = (plan: Plan) => {
    const date = plan.orders.at(-1)?.readyOn ?? null;
    if (date === null || (safe !== null && date >= safe.date)) return;
    const better = standing.safeDate(newOrder, plan);
    if (better === null) return;
    safe = better;
    heard(better);
  };
  const isBest = () => safe !== null && safe.date <= notBefore;
  const filled = fillIn(question, standing.plan, seed);
  if (filled !== null) hear(filled);
  const until: Stop = { progress: (done) => (isBest() ? 1 : stop.progress(done)) };
  findPlan(question, { seed, start: filled ?? standing.plan, prove: false, stop: until, onBetter: hear });
  return { safe, notBefore, lastDate };
}
