import type { PlanCase } from "../planning/case.ts";
import type { OrderOutcome, Plan } from "../planning/plan.ts";
import type { Change } from "../plans/whatChanged.ts";
import { undoChange } from "./undoChange.ts";

/** A promise that what happened since the plan puts in danger. */
export interface Endangered {
  readonly order: string;
  readonly promised: Outcome;
  /** The best that was found for it as things stand now. */
  readonly now: Outcome;
  /** The change without which it would be kept; null where no single one did it. */
  readonly because: Change | null;
}

type Outcome = Pick<OrderOutcome, "daysLate" | "unitsShort">;

/** Plans a case; null when it cannot be planned now. */
export type PlanIt = (planCase: PlanCase) => Promise<Plan | null>;

/** More changes than this are not held against each promise: each costs a plan. */
const MOST_TRIED = 6;

/**
 * Promises of the followed plan that cannot be kept any more as things stand, each with the change that did it: taken
 * back alone, the promise would be kept. An order that came after the plan has its own date for a promise. Null where the
 * planner had no time.
 */
export async function findEndangered(
  then: { readonly planCase: PlanCase; readonly plan: Plan },
  today: PlanCase,
  changes: readonly Change[],
  planIt: PlanIt,
): Promise<readonly Endangered[] | null> {
  if (changes.length === 0) return [];
  const now = await planIt(today);
  if (now === null) return null;
  const promises = new Map(then.plan.orders.map((outcome) => [outcome.id, outcome]));
  const broken = now.orders.filter((outcome) => isWorse(outcome, promises.get(outcome.id) ?? KEPT));
  if (broken.length === 0) return [];
  const culprits = new Map<string, Change>();
  for (const change of changes.slice(0, MOST_TRIED)) {
    const without = undoChange(today, then.planCase, change);
    const plan = without && (await planIt(without));
    if (!plan) continue;
    for (const { id } of broken) {
      const outcome = plan.orders.find((one) => one.id === id);
      if (!culprits.has(id) && outcome && !isWorse(outcome, promises.get(id) ?? KEPT))
        culprits.set(id, change);
    }
  }
  return broken.map(({ id, daysLate, unitsShort }) => ({
    order: id,
    promised: promises.get(id) ?? KEPT,
    now: { daysLate, unitsShort },
    because: culprits.get(id) ?? aboutItself(id, changes),
  }));
}

const KEPT: Outcome = { daysLate: 0, unitsShort: 0 };

/** A new order that cannot be in time is its own reason where nothing else is. */
function aboutItself(order: string, changes: readonly Change[]): Change | null {
  return changes.find((change) => change.kind === "order-new" && change.order === order) ?? null;
}

function isWorse(now: Outcome, promised: Outcome): boolean {
  return (
    now.unitsShort > promised.unitsShort ||
    (now.unitsShort <= promised.unitsShort && now.daysLate > promised.daysLate)
  );
}
