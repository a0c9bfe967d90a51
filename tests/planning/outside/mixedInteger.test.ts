import { describe, expect, test } from "vitest";
import { planCase } from "../../../server/planning/planCase.ts";
import { afterIterations } from "../../../server/planning/stop.ts";
import { caseFromJson, jsonOfFile } from "../caseFiles.ts";
import { tinyCase } from "../exhaustiveCases.ts";
import { exhaustiveSearch } from "../exhaustiveSearch.ts";
import { generateCase } from "../generateCase.ts";
import { type JsonCase, judge } from "../independentChecker.ts";
import { solveMip } from "./solveMip.ts";

/** Seconds the general solver may take for a case; most take a tenth of one. */
const patience = 4;

const cases: readonly JsonCase[] = [
  ...Array.from({ length: 24 }, (_, seed) => generateCase(seed)),
  jsonOfFile("min-bowl-0.json"),
  jsonOfFile("all-stock-0.json"),
];

describe("the planner against a mixed-integer program of the same problem, solved by HiGHS", () => {
  test("costs what is proven least, in the least hand minutes, with a bound that is not above it", async () => {
    let proven = 0;
    for (const json of cases) {
      const answer = await solveMip(json, patience);
      const plan = planCase(caseFromJson(json), { seed: 1, stop: afterIterations(10_000) });
      if (answer.plan !== null) expect(judge(json, answer.plan).complaints, json.name).toEqual([]);
      expect(answer.bound, `${json.name}: no plan is below a proven bound`).toBeLessThanOrEqual(
        plan.cost + 1e-6 * Math.max(1, plan.cost),
      );
      if (!answer.costProven || answer.plan === null) continue;
      proven += 1;
      expect(plan.cost, json.name).toBeCloseTo(answer.plan.cost, 6);
      expect(plan.bound, json.name).toBeLessThanOrEqual(answer.plan.cost + 1e-6);
      if (answer.minutesProven) expect(plan.handMinutes, json.name).toBeCloseTo(answer.plan.handMinutes, 6);
    }
    expect(proven, "cases proven").toBeGreaterThanOrEqual(20);
  });

  test("the program itself agrees with trying everything", async () => {
    for (let seed = 300; seed < 315; seed++) {
      const json = tinyCase(seed);
      const best = exhaustiveSearch(json);
      const { plan, costProven, minutesProven } = await solveMip(json, patience);
      expect({ costProven, minutesProven }, json.name).toEqual({ costProven: true, minutesProven: true });
      expect(plan?.cost, json.name).toBeCloseTo(best.cost, 6);
      expect(plan?.handMinutes, json.name).toBeCloseTo(best.handMinutes, 6);
      if (plan !== null) expect(judge(json, plan).complaints, json.name).toEqual([]);
    }
  });
});
