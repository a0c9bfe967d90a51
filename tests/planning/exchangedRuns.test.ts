import { expect, it } from "vitest";
import { build } from "../../server/planning/search/build.ts";
import { Instance } from "../../server/planning/search/instance.ts";
import { Random } from "../../server/planning/search/random.ts";
import { Ruin } from "../../server/planning/search/ruin.ts";
import { Schedule } from "../../server/planning/search/schedule.ts";
import { caseOfFile } from "./caseFiles.ts";

it("takes runs out of three sessions or more and wishes two or more of them elsewhere, now and then", () => {
  const schedule = new Schedule(new Instance(caseOfFile("fortnight-2.json")));
  const random = new Random(1);
  build(schedule, random);
  const { sessions } = schedule.instance;
  const ruin = new Ruin(schedule, random);
  let exchanges = 0;
  for (let move = 0; move < 300; move++) {
    ruin.strike();
    const from = new Set(schedule.unformed.map((cell) => cell % sessions));
    const wished = ruin.wishes.filter((session) => session >= 0);
    // Where a single run is moved, at most another makes room for it: two sessions.
    if (from.size >= 3 && wished.length >= 2) exchanges += 1;
    schedule.undo();
  }
  expect(exchanges).toBeGreaterThan(5);
});
