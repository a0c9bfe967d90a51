import { expect, it } from "vitest";
import { build } from "../../server/planning/search/build.ts";
import { Instance } from "../../server/planning/search/instance.ts";
import { Random } from "../../server/planning/search/random.ts";
import { Schedule } from "../../server/planning/search/schedule.ts";
import { caseOfFile } from "./caseFiles.ts";

it("goes back to where a change stood half-way, and from there to before it", () => {
  const schedule = new Schedule(new Instance(caseOfFile("damp-4.json")));
  build(schedule, new Random(1));
  const takeOut = (order: number) => {
    schedule.clear(order);
    expect(schedule.settleRuns()).toBe(true);
    schedule.reprice(order);
    return schedule.cells.slice();
  };
  const before = schedule.cells.slice();
  const halfWay = takeOut(0);
  const unformed = [...schedule.unformed];
  schedule.checkpoint();
  for (const other of [1, 2]) {
    expect(takeOut(other)).not.toEqual(halfWay);
    schedule.undoToCheckpoint();
    expect(schedule.cells).toEqual(halfWay);
    expect(schedule.unformed).toEqual(unformed);
  }
  schedule.undo();
  expect(schedule.cells).toEqual(before);
});
