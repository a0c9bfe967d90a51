import type { SearchFigures } from "../../views/plans/searchFigures.ts";
import { notAsked } from "./keptPlan.ts";
import { orderFigures } from "./orderFigures.ts";
import type { PlanSearch } from "./planSearch.ts";
import type { PlanNames } from "./queries.ts";

/** What the page of a search shows of it at this moment. */
export function searchFigures(search: PlanSearch, names: PlanNames): SearchFigures {
  const { best, question } = search;
  return {
    searchId: search.id,
    askedAt: search.askedAt,
    askedBy: search.askedBy,
    isAsking: search.phase === "asking",
    progress: search.progress,
    seconds: search.seconds,
    firstCost: search.firstCost ?? 0,
    best:
      best === null
        ? null
        : {
            number: best.number,
            whileAsking: best.whileAsking,
            cost: best.plan.cost,
            bound: best.plan.bound,
            handMinutes: best.plan.handMinutes,
            orders: orderFigures({ ...question, plan: best.plan, holdUps: notAsked(best.plan) }, names),
          },
  };
}
