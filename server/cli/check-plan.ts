import { caseLimits } from "../planning/case.ts";
import { checkPlan as violationsOf } from "../planning/checkPlan.ts";
import { parsePlan } from "../planning/parsePlan.ts";
import { readJsonFile } from "./jsonFile.ts";
import { consoleOutput, type Output } from "./output.ts";
import { mistakeLine, readCaseFile } from "./plan.ts";

export function run(words: readonly string[]): Promise<number> {
  return checkPlan(words, consoleOutput);
}

/** Says whether a plan is allowed for a case: 0 allowed, 1 with every rule it breaks, 2 where a file is wrong. */
export async function checkPlan(args: readonly string[], io: Output): Promise<number> {
  const [caseFile, planFile, ...more] = args;
  if (caseFile === undefined || planFile === undefined || more.length > 0) {
    io.err("Usage: check-plan CASE.json PLAN.json");
    return 2;
  }
  const planCase = await readCaseFile(caseFile);
  if (!planCase.ok) {
    for (const mistake of planCase.refusal) io.err(mistake);
    return 2;
  }
  const json = await readJsonFile(planFile, 10 * caseLimits.fileBytes);
  if (!json.ok) {
    io.err(json.refusal);
    return 2;
  }
  const plan = parsePlan(json.value);
  if (!plan.ok) {
    for (const mistake of plan.refusal) io.err(mistakeLine(mistake));
    return 1;
  }
  const violations = violationsOf(planCase.value, plan.value);
  for (const { rule, session, detail } of violations) {
    io.out(`${rule}${session === null ? "" : ` in session ${session}`}: ${detail}`);
  }
  if (violations.length === 0) io.out("allowed");
  return violations.length === 0 ? 0 : 1;
}
