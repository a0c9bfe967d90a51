import type { PlanCase } from "../planning/case.ts";
import type { OrderOutcome, Plan } from "../planning/plan.ts";
import type { Fate } from "../plans/fate.ts";
import type { Change } from "../plans/whatChanged.ts";
import { undoChange } from "./undoChange.ts";

/** A promise that what happened since the plan puts in danger. */
export interface Endangered {
  readonly order: string;
  readonly promised: Fate;
  /** The best that was found for it as things stand now. */
  readonly now: Fate;
  /** The change without which it would be kept; null where no single one did it. */
  readonly because: Change | null;
}

/** The plans that a search from the followed plan comes to, better and better; null when there is no planning now. */
export type PlanIt = (planCase: PlanCase) => Promise<readonly Plan[] | null>;

/** More changes than this are not held against each promise: each costs a plan. */
const MOST_TRIED = 6;

/**
 * Promises of the followed plan that cannot be kept any more as things stand, each with the change that did it: taken
 * back alone, the promise would be kept. Of all plans found it is the one that breaks the fewest promises that counts:
 * one that is better by its cost may break one to win elsewhere. An order that came after the plan has its own date for a
 * promise. Null where the planner had no time.
 */
export async function findEndangered(
  then: { readonly planCase: PlanCase; readonly plan: Plan },
  today: PlanCase,
  changes: readonly Change[],
  planIt: PlanIt,
): Promise<readonly Endangered[] | null> {
  if (changes.length === 0) return [];
  const promises = new Map(then.plan.orders.map((outcome) => [outcome.id, outcome]));
  const fewestBroken = async (planCase: PlanCase) => leastBroken(await planIt(planCase), promises);
  const broken = await fewestBroken(today);
  if (broken === null) return null;
  if (broken.length === 0) return [];
  const culprits = new Map<string, Change>();
  for (const change of changes.slice(0, MOST_TRIED)) {
    const without = undoChange(today, then.planCase, change);
    const still = without && (await fewestBroken(without));
    if (!still) continue;
    for (const { id } of broken) {
      const isThere = without.orders.some((order) => order.id === id);
      if (!culprits.has(id) && isThere && !still.some((outcome) => outcome.id === id))
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

/** The promises broken by the plan that breaks the fewest, of several such by the best; null without a plan. */
function leastBroken(
  plans: readonly Plan[] | null,
  promises: ReadonlyMap<string, Fate>,
): readonly OrderOutcome[] | null {
  return (plans ?? [])
    .map(({ orders }) => orders.filter((outcome) => isBroken(outcome, promises.get(outcome.id) ?? KEPT)))
    .reduce<readonly OrderOutcome[] | null>(
      (least, broken) => (least === null || broken.length <= least.length ? broken : least),
      null,
    );
}

const KEPT: Fate = { daysLate: 0, unitsShort: 0 };

/** A new order that cannot be in time is its own reason where nothing else is. */
function aboutItself(order: string, changes: readonly Change[]): Change | null {
  return changes.find((change) => change.kind === "order-new" && change.order === order) ?? null;
}

/** Short of more pieces, or later although it is not. */
function isBroken(now: Fate, promised: Fate): boolean {
  return (
    now.unitsShort > promised.unitsShort ||
    (now.unitsShort <= promised.unitsShort && now.daysLate > promised.daysLate)
  );
}
