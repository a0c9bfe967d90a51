import { describe, expect, test } from "vitest";
import { build } from "../../server/planning/search/build.ts";
import { Instance } from "../../server/planning/search/instance.ts";
import { Random } from "../../server/planning/search/random.ts";
import { Scarcity } from "../../server/planning/search/scarcity.ts";
import { Schedule } from "../../server/planning/search/schedule.ts";
import { caseFromJson } from "./caseFiles.ts";
import { generateCase } from "./generateCase.ts";

function begun(seed: number): Schedule {
  const planCase = caseFromJson(generateCase(seed, { days: 8, orders: 12, blends: 5, units: 40 }));
  const schedule = new Schedule(new Instance(planCase));
  build(schedule, new Random(seed));
  return schedule;
}

/** What all the schedule uses is worth, reckoned place by place from what is left of each room. */
function worthOfRoom(schedule: Schedule): number {
  const { instance, cells, worth } = schedule;
  const { sessions, shapes } = instance;
  let sum = 0;
  for (let session = 0; session < sessions; session++) {
    const hands = (instance.handRoom[session] ?? 0) - (cells[schedule.handLeft + session] ?? 0);
    sum += hands * (worth.hands[session] ?? 0);
    for (let shape = 0; shape < shapes; shape++) {
      const place = shape * sessions + session;
      const molds = (instance.moldRoom[place] ?? 0) - (cells[schedule.moldLeft + place] ?? 0);
      sum += molds * (worth.molds[place] ?? 0);
    }
  }
  return sum;
}

describe("room that has a price", () => {
  const seeds = Array.from({ length: 15 }, (_, seed) => seed);

  test("is paid for by all that uses it: hands and molds, from forming to packing", () => {
    for (const seed of seeds) {
      const schedule = begun(seed);
      new Scarcity(schedule).value(0.01);
      schedule.worth.trays.fill(0);
      schedule.revalue();
      expect(schedule.cells[schedule.worthUsed]).toBeCloseTo(worthOfRoom(schedule), 6);
    }
  });

  test("costs by the fourth power of how full the session has been kept", () => {
    const schedule = begun(3);
    const { instance, cells, worth } = schedule;
    const scarcity = new Scarcity(schedule);
    for (let looks = 0; looks < 400; looks++) scarcity.value(1);
    instance.handRoom.forEach((room, session) => {
      const full = 1 - (cells[schedule.handLeft + session] ?? 0) / room;
      expect(worth.hands[session]).toBeCloseTo(full ** 4, 6);
    });
  });

  test("leaves nothing but minutes once hands alone are valued", () => {
    for (const seed of seeds) {
      const schedule = begun(seed);
      new Scarcity(schedule).value(0.01);
      schedule.valueHands(2);
      expect(schedule.cells[schedule.worthUsed]).toBeCloseTo(2 * (schedule.cells[schedule.ticks] ?? 0), 3);
    }
  });
});
