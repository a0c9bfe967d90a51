import type { LateReason } from "../planning/explainPlan.ts";
import type { KeptPlan } from "./keptPlan.ts";
import type { Planner } from "./plannerPool.ts";

/** Plans whose reasons are remembered; there are seldom more that somebody looks at. */
const MOST_REMEMBERED = 20;

/**
 * Why orders of kept plans are late. A kept plan never changes, so its reasons are found once, in a planner's thread, the
 * first time somebody looks.
 */
export class LateReasons {
  readonly #planner: Planner;
  readonly #known = new Map<number, Promise<readonly LateReason[] | null>>();

  constructor(planner: Planner) {
    this.#planner = planner;
  }

  /** Null where they could not be found in the time a page has. */
  async of(planId: number, { planCase, plan }: KeptPlan): Promise<readonly LateReason[] | null> {
    if (plan.orders.every(({ daysLate, unitsShort }) => daysLate === 0 && unitsShort === 0)) return [];
    const known = this.#known.get(planId);
    if (known !== undefined) return await known;
    const asked = this.#planner.giveReasons(planCase, plan).then((given) => (given.ok ? given.value : null));
    this.#known.set(planId, asked);
    for (const oldest of [...this.#known.keys()].slice(0, -MOST_REMEMBERED)) this.#known.delete(oldest);
    const reasons = await asked;
    if (reasons === null) this.#known.delete(planId);
    return reasons;
  }
}
