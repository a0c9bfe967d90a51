import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { planCase } from "../../../server/planning/planCase.ts";
import { afterIterations } from "../../../server/planning/stop.ts";
import { caseFromJson } from "../caseFiles.ts";
import { tinyCase } from "../exhaustiveCases.ts";
import { exhaustiveSearch } from "../exhaustiveSearch.ts";
import { generateCase } from "../generateCase.ts";
import { type JsonCase, type JsonPlan, judge } from "../independentChecker.ts";
import { reordered, weeksLater, withOtherIds } from "./changedCases.ts";

/** The same cases on every machine. */
const drawn = { seed: 20_270_301, numRuns: 60 };
const anyTinyCase = fc.integer({ min: 1_000, max: 9_999 }).map(tinyCase);
const anyCase = fc.integer({ min: 1_000, max: 9_999 }).map((seed) => generateCase(seed));

const changes = [
  { name: "other ids", change: withOtherIds },
  { name: "another order of the lists", change: reordered },
  { name: "a calendar some weeks later", change: weeksLater },
] as const;

describe.each(changes)("$name", ({ change }) => {
  test("leaves the best plan's cost and minutes as they are", () => {
    fc.assert(
      fc.property(anyTinyCase, fc.integer({ min: 1, max: 60 }), (json, by) => {
        const changed = exhaustiveSearch(change(json, by));
        const best = exhaustiveSearch(json);
        expect(changed.cost).toBeCloseTo(best.cost, 6);
        expect(changed.handMinutes).toBeCloseTo(best.handMinutes, 6);
      }),
      drawn,
    );
  });

  test("keeps the planner's plan allowed and its bound true of both", () => {
    fc.assert(
      fc.property(anyTinyCase, fc.integer({ min: 1, max: 60 }), (json, by) => {
        const plan = planned(json);
        const changed = planned(change(json, by));
        expect(changed.bound).toBeLessThanOrEqual(plan.cost + 1e-6);
        expect(plan.bound).toBeLessThanOrEqual(changed.cost + 1e-6);
      }),
      drawn,
    );
  });
});

describe.each([changes[0], changes[2]])("$name", ({ change }) => {
  // Larger cases and few moves: a search that went another way would end elsewhere.
  test("leaves the planner's plan as it is, session by session", () => {
    fc.assert(
      fc.property(anyCase, fc.integer({ min: 1, max: 60 }), (json, by) => {
        const plan = planned(json, 40);
        const changed = planned(change(json, by), 40);
        expect(changed.cost).toBeCloseTo(plan.cost, 9);
        expect(changed.handMinutes).toBeCloseTo(plan.handMinutes, 9);
        expect(changed.runs.map(sessionAndUnits)).toEqual(plan.runs.map(sessionAndUnits));
      }),
      drawn,
    );
  });
});

function planned(json: JsonCase, moves = 300): JsonPlan {
  const plan = planCase(caseFromJson(json), { seed: 5, stop: afterIterations(moves) }) as unknown as JsonPlan;
  expect(judge(json, plan).complaints).toEqual([]);
  return plan;
}

function sessionAndUnits({ session, bowls, pieces }: JsonPlan["runs"][number]) {
  return { session, bowls, units: pieces.map(({ units }) => units).sort() };
}
