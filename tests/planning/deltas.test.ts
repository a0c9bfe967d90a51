import { expect, test } from "vitest";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import { costPlan, totalHandMinutes } from "../../server/planning/costPlan.ts";
import { finishPlan } from "../../server/planning/planCase.ts";
import { anneal, build } from "../../server/planning/search/anneal.ts";
import { compileCase, ticksPerMinute } from "../../server/planning/search/instance.ts";
import { Random } from "../../server/planning/search/random.ts";
import { Schedule } from "../../server/planning/search/schedule.ts";
import { writeDecisions } from "../../server/planning/search/writePlan.ts";
import { caseFromJson } from "./caseFiles.ts";
import { generateCase } from "./generateCase.ts";

test("what the search keeps up move by move is what the whole plan comes to, after every 7th move", () => {
  for (let seed = 0; seed < 20; seed++) {
    const planCase = caseFromJson(generateCase(seed, { days: 8, orders: 12, blends: 5, units: 40 }));
    const schedule = new Schedule(compileCase(planCase));
    build(schedule, new Random(seed));
    const compare = () => {
      const decisions = writeDecisions(planCase, schedule, schedule.cells);
      const whole = costPlan(planCase, decisions);
      expect(schedule.cells[schedule.cost]).toBeCloseTo(whole.lateness, 6);
      const minutes = (schedule.cells[schedule.ticks] ?? Number.NaN) / ticksPerMinute;
      expect(minutes).toBeCloseTo(totalHandMinutes(whole.handMinutes), 6);
      expect(checkPlan(planCase, finishPlan(planCase, decisions, 0))).toEqual([]);
    };
    const stop = {
      progress(iterations: number) {
        if (iterations % 7 === 0) compare();
        return iterations / 200;
      },
    };
    anneal(schedule, seed, false, stop, () => {});
  }
});
