import { describe, expect, test } from "vitest";
import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { SearchBeside } from "../../server/plans/searchBeside.ts";
import { caseOfFile, jsonOfFile } from "../planning/caseFiles.ts";
import { judge } from "../planning/independentChecker.ts";

const week = caseOfFile("week-2.json");
const patienceMs = 60_000;

describe("A search in a thread beside this one", () => {
  test("gives an allowed plan, better than its first, though this thread searched all the while and heard nothing", async () => {
    const until = Date.now() + 4_000;
    const beside = new SearchBeside({ planCase: week, seed: 7, until });
    findPlan(week, { seed: 8, stop: { progress: () => (Date.now() > until ? 1 : 0) }, prove: false });
    const plan = await beside.found(patienceMs);
    const first = findPlan(week, { seed: 7, stop: afterIterations(0), prove: false });
    if (plan === null) throw new Error("the thread gave no plan");
    expect(judge(jsonOfFile("week-2.json"), JSON.parse(JSON.stringify(plan))).complaints).toEqual([]);
    expect(plan.cost).toBeLessThan(first.cost);
  });

  test("is not waited for longer than asked, and its thread ends", async () => {
    const threads = () =>
      process.getActiveResourcesInfo().filter((kind) => /Worker|MessagePort/.test(kind)).length;
    const before = threads();
    const beside = new SearchBeside({ planCase: week, seed: 1, until: Date.now() + 600_000 });
    expect(threads()).toBeGreaterThan(before);
    expect(await beside.found(1)).toBeNull();
    await expect.poll(threads).toBe(before);
  });
});
