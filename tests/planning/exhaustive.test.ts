import { describe, expect, test } from "vitest";
import type { Plan } from "../../server/planning/plan.ts";
import { planCase } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { caseFromJson } from "./caseFiles.ts";
import { tinyCase } from "./exhaustiveCases.ts";
import { exhaustiveSearch } from "./exhaustiveSearch.ts";
import { type JsonPlan, judge } from "./independentChecker.ts";
import { nineBalls, oneBowl, withBall } from "./oneBowl.ts";

const tinyCases = Array.from({ length: 300 }, (_, seed) => {
  const json = tinyCase(seed);
  return { seed, json, best: exhaustiveSearch(json) };
});

describe("trying everything", () => {
  test("finds the plan that was worked out by hand", () => {
    // One bowl on Monday: 20 + 10 for bowl and clean-down; per ball 0.5 pressing, 0.1 turning in each of two sessions,
    // 0.2 unmolding, 1 packing: 30 + 9 x 1.9. Packed on Wednesday, the ship-by.
    const best = exhaustiveSearch(oneBowl);
    expect(best.cost).toBe(0);
    expect(best.handMinutes).toBeCloseTo(47.1, 9);
    expect(best.runs).toMatchObject([{ session: 0, blend: "cedar", bowls: 1 }]);
  });

  test("gives up on the ninth ball where only eight can be held, and counts the whole order late", () => {
    // Four trays of two hold eight; from Tuesday's mixing the ninth would be packed after the last session.
    const cramped = { ...withBall({ unitsPerTray: 2 }), trays: 4 };
    // 9 units x 8 days to a week after the last session; nothing is worth making for an order that is never whole.
    expect(exhaustiveSearch(cramped)).toMatchObject({ cost: 72, handMinutes: 0, runs: [] });
    // Piece by piece only the ninth is late: 8 days.
    const asReady = { ...cramped, orders: [{ ...nineBalls, terms: "as-ready" }] };
    expect(exhaustiveSearch(asReady).cost).toBe(8);
  });

  test("gives plans that keep every rule and cost what it says", () => {
    for (const { json, best } of tinyCases) expect(judge(json, best).complaints, json.name).toEqual([]);
  });

  test("has something to decide in most of the 300 cases", () => {
    const count = (holds: (best: JsonPlan) => boolean) => tinyCases.filter(({ best }) => holds(best)).length;
    expect(count((best) => best.runs.length > 0)).toBeGreaterThan(200);
    expect(count((best) => best.runs.length > 1)).toBeGreaterThan(80);
    expect(count((best) => best.cost > 0 && best.runs.length > 0)).toBeGreaterThan(100);
    expect(count((best) => best.cost === 0 && best.runs.length > 0)).toBeGreaterThan(60);
  });
});

describe("the planner against trying everything, 300 tiny cases", () => {
  const planned = tinyCases.map(({ seed, json, best }) => ({
    best,
    name: json.name,
    plan: planCase(caseFromJson(json), { seed, stop: afterIterations(2_000) }),
  }));

  test("never claims a plan better than the best, nor a bound above it", () => {
    for (const { plan, best, name } of planned) {
      expect(isBetter(plan, best), name).toBe(false);
      expect(plan.bound, name).toBeLessThanOrEqual(best.cost + 1e-6);
    }
  });

  test("finds the best plan", () => {
    const missed = planned
      .filter(({ plan, best }) => isBetter(best, plan))
      .map(
        ({ plan, best, name }) =>
          `${name}: ${plan.cost} in ${plan.handMinutes} min, best ${best.cost} in ${best.handMinutes} min`,
      );
    expect(missed).toEqual([]);
  });

  test("proves the best cost", () => {
    const unproven = planned
      .filter(({ plan, best }) => plan.bound < best.cost - 1e-6)
      .map(({ plan, best, name }) => `${name}: bound ${plan.bound} of ${best.cost}`);
    expectAtMost(unproven, 72);
  });
});

/** Holds a number of shortcomings that should fall over time, and says when it has fallen. */
function expectAtMost(found: readonly string[], allowed: number): void {
  expect(found.length, `at most ${allowed} allowed:\n${found.join("\n")}`).toBeLessThanOrEqual(allowed);
  if (found.length < allowed) console.info(`can be tightened from ${allowed} to ${found.length}`);
}

type Figures = Pick<Plan, "cost" | "handMinutes">;

function isBetter(one: Figures, other: Figures): boolean {
  if (Math.abs(one.cost - other.cost) > 1e-6) return one.cost < other.cost;
  return one.handMinutes < other.handMinutes - 1e-6;
}
