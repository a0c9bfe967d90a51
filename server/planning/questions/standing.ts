import type { Order, PlanCase } from "../case.ts";
import type { Decisions, OrderOutcome, Plan } from "../plan.ts";
import { finishPlan } from "../planCase.ts";
import { dateOfDay } from "../timing/clock.ts";
import { dayOf } from "../timing/horizon.ts";

/** A date an order can be promised for, and the plan that shows it. */
export interface SafeDate {
  readonly date: string;
  /** A plan for the case with the new order, due on this date, as the last of its orders. */
  readonly plan: Plan;
}

/** The accepted orders with what they have been promised, and the test whether a plan keeps it. */
export class Standing {
  readonly planCase: PlanCase;
  readonly plan: Plan;
  readonly #kept: readonly Order[];

  static of(planCase: PlanCase, plan: Plan): Standing {
    return new Standing(planCase, keptPromises(planCase, plan), plan);
  }

  private constructor(planCase: PlanCase, kept: readonly Order[], plan: Plan) {
    this.planCase = planCase;
    this.plan = plan;
    this.#kept = kept;
  }

  /** The question to search, with the new order in it and each accepted order weighing so much. */
  with(order: Order, weight: number): PlanCase {
    return { ...this.planCase, orders: [...this.#kept.map((each) => ({ ...each, weight })), order] };
  }

  /** The plan these decisions are for the case as it is and the new order. */
  finish(order: Order, decisions: Decisions): Plan {
    return finishPlan({ ...this.planCase, orders: [...this.planCase.orders, order] }, decisions, 0);
  }

  isKeptBy(plan: Plan): boolean {
    const after = new Map(plan.orders.map((outcome) => [outcome.id, outcome]));
    return isNobodyWorse(this.plan.orders, after);
  }

  /** The date decisions have the new order ready on; null where it is short or an accepted order worse off. */
  safeDate(newOrder: Order, decisions: Decisions): SafeDate | null {
    const date = this.finish(newOrder, decisions).orders.at(-1)?.readyOn ?? null;
    if (date === null) return null;
    const plan = this.finish({ ...newOrder, shipBy: date }, decisions);
    return this.isKeptBy(plan) ? { date, plan } : null;
  }

  /** The same with one more order accepted, as a plan has it. */
  accepting(order: Order, plan: Plan): Standing {
    const planCase = { ...this.planCase, orders: [...this.planCase.orders, order] };
    return new Standing(planCase, [...this.#kept, order], finishPlan(planCase, plan, 0));
  }
}

/**
 * The accepted orders as the plan leaves them: due on the day it gives them, so that a plan in which none of them is
 * worse off costs no lateness for them. Orders of which it serves nothing can't get worse and are left out; one it
 * serves in part may lose any of its pieces as long as no more are missing, so it counts its pieces only.
 */
function keptPromises(planCase: PlanCase, plan: Plan): readonly Order[] {
  const outcomes = new Map(plan.orders.map((outcome) => [outcome.id, outcome]));
  const lastDate = planCase.sessions[planCase.sessions.length - 1]!.date;
  return planCase.orders.flatMap((order): readonly Order[] => {
    const { unitsShort, daysLate } = outcomes.get(order.id)!;
    if (unitsShort === 0) {
      return [{ ...order, weight: 1, shipBy: dateOfDay(dayOf(order.shipBy) + daysLate) }];
    }
    if (unitsShort === orderedUnits(order)) return [];
    const shipBy = order.terms === "market" ? order.shipBy : lastDate;
    return [{ ...order, weight: 1, terms: "market", shipBy }];
  });
}

/** True where no order of the plan before has more days late or more units short in the one after. */
function isNobodyWorse(before: readonly OrderOutcome[], after: ReadonlyMap<string, OrderOutcome>): boolean {
  return before.every((outcome) => {
    const now = after.get(outcome.id)!;
    return now.daysLate <= outcome.daysLate && now.unitsShort <= outcome.unitsShort;
  });
}

/** Pieces on all lines of an order. */
export function orderedUnits(order: Pick<Order, "lines">): number {
  return order.lines.reduce((sum, line) => sum + line.units, 0);
}
