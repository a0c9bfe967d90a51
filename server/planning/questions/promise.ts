import type { Order, PlanCase } from "../case.ts";
import type { Plan } from "../plan.ts";
import type { Stop } from "../stop.ts";
import { type Earliest, earliestDate } from "./earliestDate.ts";
import { type PartPromised, partByDate } from "./partByDate.ts";
import { Shares } from "./shares.ts";
import { type SafeDate, Standing } from "./standing.ts";

export interface Promised {
  /** Earliest ship-by found that keeps the new order on time and no other waiting longer; null where none will do. */
  readonly earliest: string | null;
  /** True where the order alone in the workshop could not be earlier, so that no plan can promise better. */
  readonly proven: boolean;
  /** The plan that shows the earliest date. */
  readonly plan: Plan | null;
  /** Only where a date was wished that can't be kept. */
  readonly instead: PartPromised | null;
}

export interface PromiseOptions {
  readonly seed: number;
  /** Ends the whole question; the answer is then the best found so far. */
  readonly stop: Stop;
  /** The plan by which the accepted orders stand now. */
  readonly plan: Plan;
  /** The ship-by the customer would like. */
  readonly wished: string | null;
  /** Called with the first date that is safe, a matter of milliseconds, and with every earlier one. */
  readonly onAnswer?: (answer: SafeDate) => void;
}

/** Share of the search that goes into the date where one is wished. */
const dateShare = 0.65;

/**
 * The earliest ship-by a new order can be promised while no accepted order gets more days late or more units short
 * than in the current plan. A date counts only when a plan was found that keeps it. The first is found by moving
 * nothing; then one search pulls the new order towards the date it could have alone, which no plan can beat.
 */
export function promise(planCase: PlanCase, newOrder: Order, options: PromiseOptions): Promised {
  const { seed, wished } = options;
  const heard = (safe: SafeDate) => options.onAnswer?.(safe);
  const shares = new Shares(options.stop);
  const standing = Standing.of(planCase, options.plan);
  const found = earliestDate(standing, newOrder, seed, shares.upTo(wished === null ? 1 : dateShare), heard);
  const isKept = (safe: SafeDate | null) => wished === null || (safe !== null && safe.date <= wished);
  if (wished === null || isKept(found.safe)) return { ...answerOf(found), instead: null };
  const { safe, ...instead } = partByDate(standing, newOrder, wished, seed, shares);
  // Looking for pieces now and then finds an earlier date on its way.
  if (safe === null || (found.safe !== null && found.safe.date <= safe.date))
    return { ...answerOf(found), instead };
  heard(safe);
  return { ...answerOf({ ...found, safe }), instead: isKept(safe) ? null : instead };
}

/** Proven where the date is the first possible, or none is left inside the sessions. */
function answerOf({ safe, notBefore, lastDate }: Earliest): Omit<Promised, "instead"> {
  const proven = safe === null ? notBefore > lastDate : safe.date <= notBefore;
  return { earliest: safe?.date ?? null, proven, plan: safe?.plan ?? null };
}
