import { describe, expect, test } from "vitest";
import type { PlanCase } from "../../server/planning/case.ts";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import { explainRuns, summarisePlan } from "../../server/planning/explainPlan.ts";
import type { Plan } from "../../server/planning/plan.ts";
import { planCase } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { caseFromJson, caseOfFile, jsonOfFile, knownCases } from "./caseFiles.ts";
import { type CaseSize, generateCase, smallCase } from "./generateCase.ts";
import { type JsonPlan, judge } from "./independentChecker.ts";

const larger: CaseSize = { days: 14, orders: 16, blends: 9, units: 60 };

describe("every plan keeps every rule, by two readings of the rules that share nothing", () => {
  test.each(Array.from({ length: 25 }, (_, block) => block))("generated cases, block %i", (block) => {
    for (let seed = block * 24; seed < block * 24 + 24; seed++) {
      const json = generateCase(seed, seed % 6 === 5 ? larger : smallCase);
      const plan = planCase(caseFromJson(json), { seed, stop: afterIterations(400), prove: seed % 4 === 0 });
      const judgement = judge(json, plan as unknown as JsonPlan);
      expect(judgement.complaints, json.name).toEqual([]);
      expect(plan.cost, json.name).toBeCloseTo(judgement.cost, 6);
      expect(checkPlan(caseFromJson(json), plan), json.name).toEqual([]);
    }
  });

  test("the generated cases reach everything the rules speak of", () => {
    const reached = new Set<string>();
    for (let seed = 0; seed < 600; seed++) {
      const parsed = caseFromJson(generateCase(seed, seed % 6 === 5 ? larger : smallCase));
      const plan = planCase(parsed, { seed, stop: afterIterations(1), prove: false });
      for (const feature of [...featuresOfRuns(parsed, plan), ...featuresOfOrders(parsed, plan)]) {
        reached.add(feature);
      }
    }
    expect([...reached].sort()).toEqual([
      "damp day",
      "dries in half",
      "dries in none",
      "dries in whole",
      "filler of a least bowl",
      "from drying",
      "from run",
      "from stock",
      "late order",
      "order not served",
      "several bowls",
      "several shapes from one bowl",
    ]);
  });

  test.each(knownCases)("$case", ({ case: file }) => {
    const plan = planCase(caseOfFile(file), { seed: 7, stop: afterIterations(500) });
    expect(judge(jsonOfFile(file), plan as unknown as JsonPlan).complaints).toEqual([]);
  });
});

function featuresOfOrders(planCase: PlanCase, plan: Plan): readonly string[] {
  const { late, short } = summarisePlan(plan);
  const isFilled = explainRuns(planCase, plan).some((reason) => reason.leftOver.length > 0);
  return [
    ...plan.supplies.map((supply) => `from ${supply.from}`),
    ...(isFilled ? ["filler of a least bowl"] : []),
    ...(late > 0 ? ["late order"] : []),
    ...(short > 0 ? ["order not served"] : []),
  ];
}

function featuresOfRuns(planCase: PlanCase, plan: Plan): readonly string[] {
  return plan.runs.flatMap((run) => [
    ...run.pieces.map(({ product }) => `dries in ${driesIn(planCase, product)}`),
    ...(run.bowls > 1 ? ["several bowls"] : []),
    ...(run.pieces.length > 1 ? ["several shapes from one bowl"] : []),
    ...((planCase.sessions[run.session]?.dryingFactor ?? 1) > 1 ? ["damp day"] : []),
  ]);
}

function driesIn(planCase: PlanCase, product: string): string {
  const shape = planCase.products.find((each) => each.id === product)?.shape;
  return planCase.shapes.find((each) => each.id === shape)?.driesIn ?? "";
}
