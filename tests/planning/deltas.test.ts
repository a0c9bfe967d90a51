import { test } from "vitest";
import { anneal } from "../../server/planning/search/anneal.ts";
import { build } from "../../server/planning/search/build.ts";
import { Instance } from "../../server/planning/search/instance.ts";
import { Random } from "../../server/planning/search/random.ts";
import { Schedule } from "../../server/planning/search/schedule.ts";
import { caseFromJson } from "./caseFiles.ts";
import { expectExactFigures } from "./expectExactFigures.ts";
import { generateCase } from "./generateCase.ts";

test("what the search keeps up move by move is what the whole plan comes to, after every 7th move", () => {
  for (let seed = 0; seed < 20; seed++) {
    const planCase = caseFromJson(generateCase(seed, { days: 8, orders: 12, blends: 5, units: 40 }));
    const schedule = new Schedule(new Instance(planCase));
    build(schedule, new Random(seed));
    const stop = {
      progress(iterations: number) {
        if (iterations % 7 === 0) expectExactFigures(planCase, schedule);
        return iterations / 200;
      },
    };
    anneal(schedule, { seed, isGood: false, stop, isLeast: (cost) => cost === 0, onBetter() {} });
  }
});
