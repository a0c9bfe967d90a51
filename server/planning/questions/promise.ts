import type { Order, PlanCase } from "../case.ts";
import { costPlan } from "../costPlan.ts";
import { heldBy } from "../heldBy.ts";
import type { OrderOutcome, Plan } from "../plan.ts";
import { planCase as findPlan } from "../planCase.ts";
import type { Resource } from "../resource.ts";
import type { Stop } from "../stop.ts";
import { dateOfDay } from "../timing/clock.ts";
import { dayOf, horizonOf } from "../timing/horizon.ts";
import { aloneDate } from "./aloneDate.ts";

export interface Promised {
  /** Earliest ship-by found that keeps the new order on time and no other waiting longer; null where none will do. */
  readonly earliest: string | null;
  /** True where the order alone in the workshop could not be earlier, so that no plan can promise better. */
  readonly proven: boolean;
  /** Only where a date was wished that can't be kept. */
  readonly instead: {
    readonly wished: string;
    readonly piecesByWished: number;
    readonly inTheWay: Resource | null;
  } | null;
}

export interface PromiseOptions {
  readonly seed: number;
  /** A fresh stop for each of the plans tried. */
  readonly effort: () => Stop;
  /** The plan by which the accepted orders stand now. */
  readonly plan: Plan;
  /** The ship-by the customer would like. */
  readonly wished: string | null;
}

/**
 * The earliest ship-by a new order can be promised while no accepted order gets more days late or more units short
 * than in the current plan. Dates are tried by halving; a date counts as kept only when a plan that keeps it was found.
 */
export function promise(planCase: PlanCase, newOrder: Order, options: PromiseOptions): Promised {
  const accepted = keptPromises(planCase, options.plan);
  const alone = aloneDate(planCase, newOrder);
  const dates = [...new Set(planCase.sessions.map((session) => session.date))].filter(
    (date) => alone.readyOn !== null && (!alone.proven || date >= alone.readyOn),
  );
  const keeps = (shipBy: string) => {
    const tried = tryPlan(planCase, accepted, { ...newOrder, terms: "complete", weight: 1, shipBy }, options);
    return tried !== null && isKept(planCase, newOrder, shipBy, tried, options.plan);
  };
  let low = 0;
  let high = dates.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (keeps(dates[middle]!)) high = middle;
    else low = middle + 1;
  }
  const earliest = dates[high] ?? null;
  const { wished } = options;
  const proven = alone.proven && (earliest === null ? alone.readyOn === null : earliest === alone.readyOn);
  if (wished === null || (earliest !== null && earliest <= wished))
    return { earliest, proven, instead: null };
  return {
    earliest,
    proven,
    instead: { wished, ...byWished(planCase, accepted, newOrder, wished, options) },
  };
}

/**
 * The accepted orders with the dates the current plan gives them: at no lateness cost none of them is worse off. Units
 * the plan does not serve are left out.
 */
function keptPromises(planCase: PlanCase, plan: Plan): readonly Order[] {
  const outcomes = new Map(plan.orders.map((outcome) => [outcome.id, outcome]));
  const lastDate = planCase.sessions[planCase.sessions.length - 1]!.date;
  return planCase.orders.flatMap((order): readonly Order[] => {
    const outcome = outcomes.get(order.id)!;
    const weight = Math.max(1, order.weight);
    if (outcome.unitsShort === 0) {
      return [{ ...order, weight, shipBy: dateOfDay(dayOf(order.shipBy) + outcome.daysLate) }];
    }
    const lines = order.lines.flatMap(({ product }) => {
      const units = plan.supplies.reduce(
        (sum, supply) => sum + (supply.order === order.id && supply.product === product ? supply.units : 0),
        0,
      );
      return units > 0 ? [{ product, units }] : [];
    });
    if (lines.length === 0) return [];
    return order.terms === "market"
      ? [{ ...order, weight, lines }]
      : [{ ...order, weight, lines, terms: "as-ready", shipBy: lastDate }];
  });
}

/** A plan without any lateness for the accepted orders and the new one, or null where none was found. */
function tryPlan(
  planCase: PlanCase,
  accepted: readonly Order[],
  order: Order,
  options: PromiseOptions,
): Plan | null {
  let found: Plan | null = null;
  const stop = options.effort();
  findPlan(
    { ...planCase, orders: [...accepted, order] },
    {
      seed: options.seed,
      start: options.plan,
      prove: false,
      stop: { progress: (iterations) => (found === null ? stop.progress(iterations) : 1) },
      onBetter: (plan) => {
        if (plan.cost === 0) found ??= plan;
      },
    },
  );
  return found;
}

/** Checks a promise against the case as it is: the new order on time, and nobody worse off than in the current plan. */
function isKept(planCase: PlanCase, newOrder: Order, shipBy: string, tried: Plan, current: Plan): boolean {
  const withNew = { ...planCase, orders: [...planCase.orders, { ...newOrder, shipBy }] };
  const after = new Map(costPlan(withNew, tried).orders.map(({ outcome }) => [outcome.id, outcome]));
  const isNoWorse = (before: OrderOutcome) => {
    const now = after.get(before.id)!;
    return now.daysLate <= before.daysLate && now.unitsShort <= before.unitsShort;
  };
  const own = after.get(newOrder.id)!;
  return own.daysLate === 0 && own.unitsShort === 0 && current.orders.every(isNoWorse);
}

/** How much of the order could be there by the wished date, and what is used up that keeps the rest from it. */
function byWished(
  planCase: PlanCase,
  accepted: readonly Order[],
  newOrder: Order,
  wished: string,
  options: PromiseOptions,
): { readonly piecesByWished: number; readonly inTheWay: Resource | null } {
  const order: Order = { ...newOrder, terms: "market", shipBy: wished, weight: 1 };
  const ordered = newOrder.lines.reduce((sum, line) => sum + line.units, 0);
  // Accepted orders weigh so much that no piece of the new one can buy a delay of theirs.
  const weighty = accepted.map((each) => ({ ...each, weight: each.weight * 7 * (ordered + 1) }));
  const withNew = { ...planCase, orders: [...weighty, order] };
  const plan = findPlan(withNew, {
    seed: options.seed,
    start: options.plan,
    prove: false,
    stop: options.effort(),
  });
  const outcomes = new Map(plan.orders.map((outcome) => [outcome.id, outcome]));
  const isDisturbed = accepted.some((each) => (outcomes.get(each.id)?.daysLate ?? 0) > 0);
  const piecesByWished = isDisturbed ? 0 : ordered - (outcomes.get(order.id)?.unitsShort ?? ordered);
  const short = newOrder.lines
    .map((line) => ({
      product: line.product,
      units: plan.supplies.reduce(
        (left, s) => left - (s.order === order.id && s.product === line.product ? s.units : 0),
        line.units,
      ),
    }))
    .sort((a, b) => b.units - a.units)[0];
  const product = planCase.products.find((each) => each.id === short?.product);
  const { lastDay } = horizonOf(planCase);
  const inTheWay =
    product === undefined
      ? null
      : (heldBy(withNew, plan, product, dayOf(wished) + 1) ?? heldBy(withNew, plan, product, lastDay + 1));
  return { piecesByWished, inTheWay: inTheWay?.resource ?? null };
}
