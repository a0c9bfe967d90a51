import type { Order, PlanCase } from "./case.ts";
import { type HeldBy, heldBy } from "./heldBy.ts";
import type { OrderOutcome, Plan, RunPieces } from "./plan.ts";
import { type AloneDate, aloneDate } from "./questions/aloneDate.ts";
import { dayOf, type Horizon, horizonOf } from "./timing/horizon.ts";

/** What a plan comes to, as figures a view can put into words. */
export interface PlanSummary {
  readonly orders: number;
  readonly onTime: number;
  readonly late: number;
  /** Orders some unit of which is never served (for a market: not by its date). */
  readonly short: number;
  readonly cost: number;
  readonly bound: number;
  /** True where no plan can have a lower lateness cost. */
  readonly provenBest: boolean;
}

/** Units of an order, and where they come from. */
export interface ServedUnits {
  readonly order: string;
  readonly product: string;
  readonly units: number;
}

/** Why a run is there: whom it serves, and what is left over for stock. */
export interface RunReason {
  /** Index into the plan's runs. */
  readonly run: number;
  readonly serves: readonly ServedUnits[];
  readonly leftOver: readonly RunPieces[];
}

export function summarisePlan(plan: Plan): PlanSummary {
  const short = plan.orders.filter((order) => order.unitsShort > 0).length;
  const late = plan.orders.filter((order) => order.unitsShort === 0 && order.daysLate > 0).length;
  return {
    orders: plan.orders.length,
    onTime: plan.orders.length - short - late,
    late,
    short,
    cost: plan.cost,
    bound: plan.bound,
    provenBest: plan.cost - plan.bound < 1e-6 * Math.max(1, plan.cost),
  };
}

/** For each run the orders it serves, in the order of the plan's runs. */
export function explainRuns(planCase: PlanCase, plan: Plan): readonly RunReason[] {
  const blendOf = new Map(planCase.products.map((product) => [product.id, product.blend]));
  return plan.runs.map((run, index) => {
    const serves = plan.supplies.flatMap((supply) => {
      const here = supply.from === "run" && supply.session === run.session && supply.units > 0;
      const { order, product, units } = supply;
      return here && blendOf.get(product) === run.blend ? [{ order, product, units }] : [];
    });
    const leftOver = run.pieces.flatMap(({ product, units }) => {
      const given = serves.reduce((sum, served) => sum + (served.product === product ? served.units : 0), 0);
      return units > given ? [{ product, units: units - given }] : [];
    });
    return { run: index, serves, leftOver };
  });
}

/** Why an order is late or not served in full. */
export interface LateReason {
  readonly outcome: OrderOutcome;
  /** What is ready last, or never: the product that keeps the order waiting, and how many pieces of it. */
  readonly waitsFor: RunPieces;
  /** What is used up where those pieces would have to be formed to be on time; null where nothing is. */
  readonly heldBy: HeldBy | null;
  readonly alone: AloneDate;
  /** Days of lateness that would remain if the order were alone in the workshop. */
  readonly unavoidableDays: number;
}

/** A reason for every order that is late or short, in the order of the case. */
export function explainLateOrders(planCase: PlanCase, plan: Plan): readonly LateReason[] {
  const horizon = horizonOf(planCase);
  const outcomes = new Map(plan.orders.map((outcome) => [outcome.id, outcome]));
  return planCase.orders.flatMap((order) => {
    const outcome = outcomes.get(order.id)!;
    if (outcome.daysLate === 0 && outcome.unitsShort === 0) return [];
    const alone = aloneDate(planCase, order);
    const waitsFor = lastPieces(planCase, plan, order, horizon);
    const product = planCase.products.find((each) => each.id === waitsFor.product)!;
    const due = dayOf(order.shipBy);
    const aloneDay = alone.readyOn === null ? due + horizon.neverServedDays(due) : dayOf(alone.readyOn);
    // Lateness that even being alone would bring is explained by what it still loses beyond that day.
    const before = Math.max(due, aloneDay) + 1;
    return [
      {
        outcome,
        waitsFor,
        heldBy: heldBy(planCase, plan, product, before),
        alone,
        unavoidableDays: Math.min(outcome.daysLate, Math.max(0, aloneDay - due)),
      },
    ];
  });
}

/** Pieces of the order that are never served, or else those that are ready last; the most numerous product of them. */
function lastPieces(planCase: PlanCase, plan: Plan, order: Order, horizon: Horizon): RunPieces {
  const shapes = new Map(planCase.shapes.map((shape) => [shape.id, shape]));
  const shapeOf = new Map(planCase.products.map((product) => [product.id, shapes.get(product.shape)!]));
  const supplies = plan.supplies.filter((supply) => supply.order === order.id && supply.units > 0);
  const short = order.lines.map((line) => ({
    product: line.product,
    units: supplies.reduce((left, s) => left - (s.product === line.product ? s.units : 0), line.units),
  }));
  const packed = supplies.map((supply) => {
    if (supply.from === "stock") return { ...supply, at: -1 };
    const { pack } =
      supply.from === "run"
        ? horizon.ofForming(shapeOf.get(supply.product)!, supply.session)
        : horizon.ofDrying(planCase.drying[supply.drying]!);
    return { ...supply, at: horizon.sessions[pack!]!.day };
  });
  const last = packed.reduce((latest, supply) => Math.max(latest, supply.at), -1);
  const waiting = short.some((line) => line.units > 0)
    ? short
    : packed.filter((supply) => supply.at === last);
  const { product, units } = waiting.reduce((most, pieces) => (pieces.units > most.units ? pieces : most));
  return { product, units };
}
