import { describe, expect, test } from "vitest";
import type { PlanCase } from "../../server/planning/case.ts";
import { explainLateOrders, explainRuns, summarisePlan } from "../../server/planning/explainPlan.ts";
import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { caseFromJson } from "./caseFiles.ts";
import type { JsonCase } from "./independentChecker.ts";
import { nineBalls, oneBowl, withBall } from "./oneBowl.ts";

const solve = (planCase: PlanCase, iterations = 1500) =>
  findPlan(planCase, { seed: 1, stop: afterIterations(iterations) });

/** Two orders of nine balls each; 5 sets hold nine, so one is formed on Monday and one on Tuesday, ready on Thursday. */
const twoOrders: JsonCase = {
  ...oneBowl,
  orders: [nineBalls, { ...nineBalls, id: "W-2", lines: [{ product: "oat/ball", units: 9 }] }],
};

describe("why", () => {
  test("a late order names what it waits for, what is used up, by whom, and its date alone", () => {
    const planCase = caseFromJson(twoOrders);
    const plan = solve(planCase);
    const [reason, ...others] = explainLateOrders(planCase, plan);
    const late = reason?.outcome.id;
    expect(others).toEqual([]);
    expect(reason).toMatchObject({
      waitsFor: { units: 9 },
      heldBy: {
        resource: { resource: "moldSets", shape: "ball" },
        sessions: [0, 1],
        orders: [late === "W-1" ? "W-2" : "W-1"],
        alreadyDrying: false,
      },
      alone: { readyOn: "2027-03-03", proven: true },
      unavoidableDays: 0,
    });
    expect(summarisePlan(plan)).toMatchObject({ orders: 2, onTime: 1, late: 1, short: 0, cost: 9 });
  });

  test("lateness that no plan can avoid is told apart", () => {
    const planCase = caseFromJson({ ...oneBowl, orders: [{ ...nineBalls, shipBy: "2027-03-01" }] });
    expect(explainLateOrders(planCase, solve(planCase))).toMatchObject([
      { unavoidableDays: 2, alone: { readyOn: "2027-03-03" } },
    ]);
  });

  test("a run names the orders it serves and what is left over", () => {
    const planCase = caseFromJson({ ...withBall({ moldSets: 7 }), minBowlGrams: 1250 });
    expect(explainRuns(planCase, solve(planCase))).toEqual([
      {
        run: 0,
        serves: [{ order: "W-1", product: "cedar/ball", units: 9 }],
        leftOver: [{ product: "cedar/ball", units: 4 }],
      },
    ]);
  });
});
