import type { PlanCase } from "./case.ts";
import type { Plan, RunPieces } from "./plan.ts";

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
