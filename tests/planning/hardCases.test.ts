import { describe, expect, test } from "vitest";
import { planCase } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { caseFromJson } from "./caseFiles.ts";
import { generateCase } from "./generateCase.ts";
import { type JsonCase, type JsonPlan, judge } from "./independentChecker.ts";
import { nineBalls, oneBowl, withBall } from "./oneBowl.ts";

function solved(json: JsonCase, iterations = 300) {
  const plan = planCase(caseFromJson(json), { seed: 3, stop: afterIterations(iterations) });
  expect(judge(json, plan as unknown as JsonPlan).complaints).toEqual([]);
  return plan;
}

describe("cases at the edge are answered with an allowed plan", () => {
  test("no orders", () => {
    expect(solved({ ...oneBowl, orders: [] })).toMatchObject({
      cost: 0,
      handMinutes: 0,
      runs: [],
      orders: [],
    });
  });

  test("no molds, no trays, no mixers, no hands: nothing can be made", () => {
    const idle = {
      ...oneBowl,
      sessions: oneBowl.sessions.map((session) => ({ ...session, handMinutes: 0 })),
    };
    for (const json of [
      withBall({ moldSets: 0 }),
      { ...oneBowl, trays: 0 },
      { ...oneBowl, mixers: 0 },
      idle,
    ]) {
      // Due on 3 March, never served: 8 days to 11 March x 9 units.
      expect(solved(json)).toMatchObject({ cost: 72, bound: 72, runs: [] });
    }
  });

  test("one session only: whatever is formed in it is never packed", () => {
    const json = { ...oneBowl, sessions: oneBowl.sessions.slice(0, 1) };
    expect(solved(json).runs).toEqual([]);
  });

  test("an order larger than the whole horizon can make", () => {
    const huge = { ...nineBalls, terms: "as-ready", lines: [{ product: "cedar/ball", units: 5000 }] };
    const plan = solved({ ...oneBowl, orders: [huge] });
    // Nine on Monday and nine on Tuesday, when the first have left their molds; the rest is never served.
    expect(plan.orders[0]?.unitsShort).toBe(4982);
  });

  test("a product that can't dry in time", () => {
    expect(solved(withBall({ moldHours: 200 }))).toMatchObject({ runs: [], cost: 72, bound: 72 });
  });

  test("everything in stock", () => {
    const plan = solved({ ...oneBowl, stock: [{ product: "cedar/ball", units: 9 }] });
    expect(plan).toMatchObject({ cost: 0, handMinutes: 0, runs: [] });
    expect(plan.orders).toEqual([{ id: "W-1", readyOn: "2027-03-01", daysLate: 0, unitsShort: 0 }]);
  });

  test("pieces that dry already take more than every limit", () => {
    const drying = Array.from({ length: 3 }, () => ({
      product: "cedar/ball",
      units: 500,
      trays: 40,
      unmoldAt: "2027-03-02T09:00",
      packAt: "2027-03-03T09:00",
    }));
    const plan = solved({ ...oneBowl, drying });
    expect(plan.cost).toBe(0);
    expect(plan.runs).toEqual([]);
  });

  test("a piece heavier than a bowl takes several bowls", () => {
    const json = { ...withBall({ grams: 900 }), bowlGrams: 500, mixMinutes: 5 };
    // 9 x 900 g = 8100 g in bowls of 500 g: 17 bowls of 30 minutes need more than 4 hours of one mixer.
    expect(solved({ ...json, mixers: 3 }).runs[0]?.bowls).toBe(17);
    expect(solved({ ...json, mixers: 2 }).cost).toBeGreaterThan(0);
  });

  test("2,500 sessions", () => {
    const sessions = Array.from({ length: 2500 }, (_, at) => ({
      date: new Date(Date.UTC(2027, 0, 1 + at)).toISOString().slice(0, 10),
      start: "09:00",
      end: "13:00",
      handMinutes: 240,
    }));
    const orders = Array.from({ length: 60 }, (_, at) => ({
      ...nineBalls,
      id: `W-${at}`,
      shipBy: sessions[at * 40]?.date ?? "",
    }));
    expect(
      solved({ ...oneBowl, sessions, orders }, 20).orders.filter((order) => order.unitsShort > 0),
    ).toEqual([]);
  });
});

test("the same seed and iterations give the same plan, another seed may give another", () => {
  const json = caseFromJson(generateCase(7, { days: 10, orders: 12, blends: 6, units: 40 }));
  const once = planCase(json, { seed: 5, stop: afterIterations(300) });
  expect(planCase(json, { seed: 5, stop: afterIterations(300) })).toEqual(once);
});
