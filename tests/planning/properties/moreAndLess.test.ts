import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { planCase } from "../../../server/planning/planCase.ts";
import { afterIterations } from "../../../server/planning/stop.ts";
import { caseFromJson } from "../caseFiles.ts";
import { tinyCase } from "../exhaustiveCases.ts";
import { exhaustiveSearch } from "../exhaustiveSearch.ts";
import { generateCase } from "../generateCase.ts";
import { type JsonPlan, judge } from "../independentChecker.ts";
import { withMore, withoutOrder } from "./changedCases.ts";

/** The same cases on every machine. */
const drawn = { seed: 20_270_301, numRuns: 60 };
const anyTinyCase = fc.integer({ min: 1_000, max: 9_999 }).map(tinyCase);

describe("with more to go round", () => {
  test("the best plan is never worse", () => {
    fc.assert(
      fc.property(anyTinyCase, (json) => {
        const best = exhaustiveSearch(json);
        for (const { more, json: richer } of withMore(json)) {
          expect(isWorse(exhaustiveSearch(richer), best), more).toBe(false);
        }
      }),
      drawn,
    );
  });

  test("and somewhere it is better, for each thing there can be more of", () => {
    const helped = new Set<string>();
    for (let seed = 0; seed < 100; seed++) {
      const json = tinyCase(seed);
      const best = exhaustiveSearch(json);
      for (const { more, json: richer } of withMore(json)) {
        if (isWorse(best, exhaustiveSearch(richer))) helped.add(more.replace(/ of .*/, ""));
      }
    }
    expect([...helped].sort()).toEqual([
      "a mixer",
      "a mold set",
      "a piece on the shelf",
      "a tray",
      "an hour",
    ]);
  });

  // Larger cases, many moves for the plan and few after it: a search that began anew would not get as far.
  test("the planner goes on from a plan for less without losing any of it", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1_000, max: 9_999 }), (seed) => {
        const json = generateCase(seed);
        const start = planCase(caseFromJson(json), { seed: 2, stop: afterIterations(500) });
        for (const { more, json: richer } of withMore(json)) {
          const plan = planCase(caseFromJson(richer), { seed: 2, stop: afterIterations(3), start });
          expect(isWorse(plan, start), more).toBe(false);
        }
      }),
      drawn,
    );
  });
});

describe("with an order less", () => {
  test("the others are never worse off at the best plan", () => {
    fc.assert(
      fc.property(anyTinyCase, fc.nat(9), (json, pick) => {
        const at = pick % json.orders.length;
        const less = withoutOrder(json, at);
        const best = exhaustiveSearch(json);
        // What the others cost in the best plan for all of them: the same runs with nothing handed to this one.
        const others = judge(less, withNothingFor(json.orders[at]?.id ?? "", best)).cost;
        expect(exhaustiveSearch(less).cost).toBeLessThanOrEqual(others + 1e-6);
      }),
      drawn,
    );
  });
});

function withNothingFor(id: string, plan: JsonPlan): JsonPlan {
  return {
    ...plan,
    supplies: plan.supplies.filter(({ order }) => order !== id),
    orders: plan.orders.filter((order) => order.id !== id),
  };
}

type Figures = Pick<JsonPlan, "cost" | "handMinutes">;

/** By cost first, then by hand minutes. */
function isWorse(one: Figures, other: Figures): boolean {
  if (Math.abs(one.cost - other.cost) > 1e-6) return one.cost > other.cost;
  return one.handMinutes > other.handMinutes + 1e-6;
}
