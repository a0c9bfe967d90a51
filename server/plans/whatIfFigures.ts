import type { OrderFigures } from "../../views/plans/planFigures.ts";
import type { ComparedOrder, WhatIfChoices, WhatIfFigures } from "../../views/plans/whatIfFigures.ts";
import type { PlanCase } from "../planning/case.ts";
import type { Plan } from "../planning/plan.ts";
import type { Question } from "./askQuestion.ts";
import { notAsked } from "./keptPlan.ts";
import { orderFigures } from "./orderFigures.ts";
import type { PlanNames } from "./queries.ts";
import { ADDED, type WhatIf } from "./whatIf.ts";

interface Compared {
  readonly question: Question;
  readonly changed: PlanCase;
  readonly whatIf: WhatIf;
  readonly today: Plan;
  readonly otherPlan: Plan;
  readonly names: PlanNames;
}

/** Two plans side by side, order by order. */
export function whatIfFigures({
  question,
  changed,
  whatIf,
  today,
  otherPlan,
  names,
}: Compared): WhatIfFigures {
  const figuresOf = (planCase: PlanCase, plan: Plan) =>
    orderFigures({ ...question, planCase, plan, holdUps: notAsked(plan) }, names);
  const { molds, trays, mixers, handMinutes, damp, without, added } = whatIf;
  return {
    molds: molds && { shape: names.shape(molds.shape), sets: molds.sets },
    trays,
    mixers,
    handMinutes,
    damp,
    without,
    added: added && { ...added, product: names.product(added.product) },
    today: totals(today),
    changed: totals(otherPlan),
    orders: compared(figuresOf(question.planCase, today), figuresOf(changed, otherPlan)),
  };
}

function totals({ cost, bound, handMinutes }: Plan) {
  return { cost, bound, handMinutes };
}

/** Those that fare differently first, the worst change at the top. */
function compared(
  today: readonly OrderFigures[],
  changed: readonly OrderFigures[],
): readonly ComparedOrder[] {
  const byReference = new Map(changed.map((order) => [order.reference, order]));
  const known = new Set(today.map(({ reference }) => reference));
  const orders = [
    ...today.map(
      (order): ComparedOrder => ({ today: order, changed: byReference.get(order.reference) ?? null }),
    ),
    ...changed
      .filter(({ reference }) => !known.has(reference))
      .map((order): ComparedOrder => ({ today: null, changed: order })),
  ];
  const worse = ({ today: before, changed: after }: ComparedOrder) =>
    before === null || after === null ? 0 : trouble(after) - trouble(before);
  const isSame = (order: ComparedOrder) =>
    order.today !== null && order.changed !== null && worse(order) === 0 ? 1 : 0;
  return orders.sort((one, other) => isSame(one) - isSame(other) || worse(other) - worse(one));
}

/** One piece short weighs more than any lateness; orders are only compared with themselves. */
function trouble({ unitsShort, daysLate }: OrderFigures): number {
  return unitsShort * 1_000 + daysLate;
}

/** What can be chosen in the form, in the names of the workshop. */
export function whatIfChoices(planCase: PlanCase, names: PlanNames): WhatIfChoices {
  const dates = planCase.sessions.filter(({ mixing }) => mixing).map(({ date }) => date);
  return {
    shapes: planCase.shapes
      .filter(({ driesIn }) => driesIn !== "none")
      .map(({ id, moldSets }) => ({ code: id, name: names.shape(id), sets: moldSets })),
    trays: planCase.trays,
    mixers: planCase.mixers,
    dates: [...new Set(dates)],
    orders: planCase.orders
      .filter(({ id }) => id !== ADDED)
      .map(({ id }) => ({ reference: id, customer: names.order(id).customer })),
    products: planCase.products.map(({ id }) => ({ code: id, name: names.product(id) })),
  };
}
