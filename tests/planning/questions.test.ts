import { describe, expect, test } from "vitest";
import type { PlanCase } from "../../server/planning/case.ts";
import { explainLateOrders, explainRuns, summarisePlan } from "../../server/planning/explainPlan.ts";
import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { whatHoldsUp } from "../../server/planning/questions/whatHoldsUp.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { caseFromJson, caseOfFile } from "./caseFiles.ts";
import type { JsonCase } from "./independentChecker.ts";
import { nineBalls, oneBowl, withBall } from "./oneBowl.ts";

const solve = (planCase: PlanCase, iterations = 1500) =>
  findPlan(planCase, { seed: 1, stop: afterIterations(iterations) });
const effort = () => afterIterations(400);

/** Two orders of nine balls each; 5 sets hold nine, so one is formed on Monday and one on Tuesday, ready on Thursday. */
const twoOrders: JsonCase = {
  ...oneBowl,
  orders: [nineBalls, { ...nineBalls, id: "W-2", lines: [{ product: "oat/ball", units: 9 }] }],
};

describe("what holds the workshop up", () => {
  test("the molds, and how many would be enough", () => {
    const holdUps = whatHoldsUp(caseFromJson(twoOrders), { seed: 1, effort });
    // One order a day late: 9 unit-days. 10 sets hold 19 pieces, both orders on Monday; 9 sets hold 17.
    expect(holdUps.cost).toBe(9);
    const molds = holdUps.resources.find((report) => report.resource === "moldSets");
    expect(molds).toMatchObject({ limit: 5, peakLoad: 1, enough: { limit: 10, cost: 0 } });
    expect(molds?.oneMore).toEqual({ limit: 6, cost: 9 });
    for (const report of holdUps.resources) {
      if (report.resource !== "moldSets") expect(report.enough).toBeNull();
    }
    expect(holdUps.bottleneck).toEqual({ resource: "moldSets", shape: "ball" });
  });

  test("loads are shares of the limit over the sessions that have one", () => {
    const { resources } = whatHoldsUp(caseFromJson(oneBowl), { seed: 1, effort });
    const report = (kind: string) => resources.find((each) => each.resource === kind);
    // Nine of nine places on Monday morning and afternoon, none in three more sessions.
    expect(report("moldSets")).toMatchObject({ meanLoad: 2 / 5, peakLoad: 1 });
    // Three of eight trays until Wednesday, that is in three sessions of five.
    expect(report("trays")?.meanLoad).toBeCloseTo((3 * 3) / 8 / 5, 9);
    // One bowl of eight that fit four hours, and six that fit three.
    expect(report("mixers")).toMatchObject({ meanLoad: 1 / 8 / 5, peakLoad: 1 / 8 });
    expect(report("handMinutes")?.peakLoad).toBeCloseTo(35.4 / 240, 9);
  });

  test("more of a resource is never worse", () => {
    const holdUps = whatHoldsUp(caseOfFile("mold-bound-0.json"), { seed: 1, effort });
    for (const { oneMore, enough } of holdUps.resources) {
      expect(oneMore.cost).toBeLessThanOrEqual(holdUps.cost);
      if (enough !== null) {
        expect(enough.cost).toBeLessThan(holdUps.cost);
        expect(enough.cost).toBeLessThanOrEqual(oneMore.cost);
      }
    }
    expect(holdUps.bottleneck?.resource).toBe("moldSets");
  });
});

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
