import { describe, expect, it } from "vitest";
import { dryingTimes, readyDueAfterUnmolding } from "../../server/bench/dryingTimes.ts";

const NOON = new Date("2027-03-01T12:00:00Z");
const clock = ({ unmoldDueAt, readyDueAt }: ReturnType<typeof dryingTimes>) =>
  [unmoldDueAt, readyDueAt].map((time) => time.toISOString().slice(8, 16));

describe("drying times", () => {
  it("count whole minutes, rounded up as the planner rounds them", () => {
    // 100 min x 1.1 = 110 exactly; in binary a hair more, which must not make it 111.
    expect(clock(dryingTimes(NOON, { moldMinutes: 100, restMinutes: 100, dryingFactor: 1.1 }))).toEqual([
      "01T13:50",
      "01T15:40",
    ]);
    // 21 min x 1.15 = 24.15: 25.
    expect(clock(dryingTimes(NOON, { moldMinutes: 21, restMinutes: 0, dryingFactor: 1.15 }))).toEqual([
      "01T12:25",
      "01T12:25",
    ]);
  });

  it("count elapsed hours, over a clock change too", () => {
    // The clocks of Lisbon go forward on 28 March 2027 at 01:00: 16 hours are 16 hours.
    const evening = new Date("2027-03-27T20:00:00Z");
    expect(clock(dryingTimes(evening, { moldMinutes: 960, restMinutes: 480, dryingFactor: 1 }))).toEqual([
      "28T12:00",
      "28T20:00",
    ]);
  });

  it("move the rest along with the unmolding", () => {
    const times = dryingTimes(NOON, { moldMinutes: 960, restMinutes: 480, dryingFactor: 1.5 });
    const late = new Date("2027-03-03T09:00:00Z");
    expect(readyDueAfterUnmolding(times, late)).toEqual(new Date("2027-03-03T21:00:00Z"));
  });
});
