import type { Order, PlanCase, Shape } from "./case.ts";
import type { Work } from "./loads.ts";
import type { Decisions, OrderOutcome, Supply } from "./plan.ts";
import { dateOfDay } from "./timing/clock.ts";
import { dayOf, type Horizon, horizonOf } from "./timing/horizon.ts";

/** Lateness of one order: what it costs, and what becomes of it. */
export interface OrderCost {
  /** Unit-days. */
  readonly cost: number;
  readonly outcome: OrderOutcome;
}

/** Everything plans are compared by, most important first, each term on its own. */
export interface PlanCost {
  /** Unit-days over all orders. */
  readonly lateness: number;
  /** Of what the plan forms, by kind of work. */
  readonly handMinutes: Work;
  /** Dates on which something is mixed. */
  readonly mixingDates: number;
  /** Days from the first session's date to each supplied unit's own, over all units. */
  readonly supplyDays: number;
  readonly orders: readonly OrderCost[];
}

/** A market piece not there on the day weighs as much as one that is a week late. */
const marketDays = 7;

/** Costs a whole plan term by term, from its decisions alone. The plan must be allowed. */
export function costPlan(planCase: PlanCase, decisions: Decisions): PlanCost {
  const horizon = horizonOf(planCase);
  const dayOfSupply = supplyDays(planCase, horizon);
  const suppliesByOrder = new Map<string, { readonly units: number; readonly day: number | null }[]>();
  for (const order of planCase.orders) suppliesByOrder.set(order.id, []);
  let days = 0;
  for (const supply of decisions.supplies) {
    const day = dayOfSupply(supply);
    if (supply.units > 0) suppliesByOrder.get(supply.order)?.push({ units: supply.units, day });
    days += supply.units * ((day ?? horizon.firstDay) - horizon.firstDay);
  }
  const orders = planCase.orders.map((order) =>
    orderCost(order, suppliesByOrder.get(order.id) ?? [], horizon),
  );
  return {
    lateness: orders.reduce((sum, order) => sum + order.cost, 0),
    handMinutes: handMinutesOf(planCase, decisions, horizon),
    mixingDates: new Set(decisions.runs.map((run) => horizon.sessions[run.session]!.day)).size,
    supplyDays: days,
    orders,
  };
}

export function totalHandMinutes(minutes: Work): number {
  const { mixing, cleaning, forming, turning, unmolding, packing } = minutes;
  return mixing + cleaning + forming + turning + unmolding + packing;
}

/**
 * Compares two costs by lateness, hand minutes, mixing dates and supply days, in this order; negative when `a` is
 * better. Figures closer than a millionth count as equal: sums of decimals differ in their last digits.
 */
export function compareCosts(a: PlanCost, b: PlanCost): number {
  const differences = [
    a.lateness - b.lateness,
    totalHandMinutes(a.handMinutes) - totalHandMinutes(b.handMinutes),
    a.mixingDates - b.mixingDates,
    a.supplyDays - b.supplyDays,
  ];
  return differences.find((difference) => Math.abs(difference) > 1e-6) ?? 0;
}

/** Day each supply is free to ship; null for stock, which is on time for any order. */
function supplyDays(planCase: PlanCase, horizon: Horizon): (supply: Supply) => number | null {
  const shapeOf = shapeOfProduct(planCase);
  return (supply) => {
    if (supply.from === "stock") return null;
    const { pack } =
      supply.from === "run"
        ? horizon.ofForming(shapeOf(supply.product), supply.session)
        : horizon.ofDrying(planCase.drying[supply.drying]!);
    return horizon.sessions[pack!]!.day;
  };
}

function orderCost(
  order: Order,
  supplies: readonly { readonly units: number; readonly day: number | null }[],
  horizon: Horizon,
): OrderCost {
  const shipBy = dayOf(order.shipBy);
  const ordered = order.lines.reduce((sum, line) => sum + line.units, 0);
  const served = supplies.reduce((sum, supply) => sum + supply.units, 0);
  const daysLate = (day: number | null) => (day === null ? 0 : Math.max(0, day - shipBy));
  const lastDay = supplies.reduce(
    (last, supply) => Math.max(last, supply.day ?? horizon.firstDay),
    horizon.firstDay,
  );
  const mostDays = supplies.reduce((most, supply) => Math.max(most, daysLate(supply.day)), 0);
  const never = horizon.neverServedDays(shipBy);
  const all = served === ordered;

  const cost = {
    complete: () => order.weight * ordered * (all ? mostDays : never),
    "as-ready": () =>
      order.weight *
      (supplies.reduce((sum, supply) => sum + supply.units * daysLate(supply.day), 0) +
        (ordered - served) * never),
    market: () => order.weight * marketDays * (ordered - served),
  };
  return {
    cost: cost[order.terms](),
    outcome: {
      id: order.id,
      readyOn: all ? dateOfDay(lastDay) : null,
      daysLate: all ? mostDays : never,
      unitsShort: ordered - served,
    },
  };
}

function handMinutesOf(planCase: PlanCase, decisions: Decisions, horizon: Horizon): Work {
  const shapeOf = shapeOfProduct(planCase);
  const minutes = { mixing: 0, cleaning: 0, forming: 0, turning: 0, unmolding: 0, packing: 0 };
  for (const run of decisions.runs) {
    minutes.mixing += run.bowls * planCase.mixMinutes;
    minutes.cleaning += planCase.cleanMinutes;
    for (const { product, units } of run.pieces) {
      const shape = shapeOf(product);
      const turns = horizon.ofForming(shape, run.session).unmold! - run.session;
      minutes.forming += units * shape.formMinutes;
      minutes.turning += units * turns * shape.turnMinutes;
      minutes.unmolding += units * shape.unmoldMinutes;
      minutes.packing += units * shape.packMinutes;
    }
  }
  return minutes;
}

function shapeOfProduct(planCase: PlanCase): (product: string) => Shape {
  const shapes = new Map(planCase.shapes.map((shape) => [shape.id, shape]));
  const byProduct = new Map(planCase.products.map((product) => [product.id, shapes.get(product.shape)]));
  return (product) => byProduct.get(product)!;
}
