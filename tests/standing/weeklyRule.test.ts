import { describe, expect, it } from "vitest";
import { datesOf } from "../../server/recurrence/datesOf.ts";
import { dueDates, nextDates, type StandingCalendar } from "../../server/standing/standingDates.ts";
import { weeklyPattern, weeklyRule } from "../../server/standing/weeklyRule.ts";

const days = (words: string) => words.split(" ");

/* RFC 5545, section 3.8.5.3: the examples that a weekly rule can say, all with DTSTART in 1997. */
describe("the rule of a standing order gives the dates of RFC 5545, 3.8.5.3", () => {
  const dates = (everyWeeks: number, weekdays: readonly number[], startsOn: string, until: string) =>
    datesOf(
      { rule: weeklyRule({ everyWeeks, weekdays }), startsOn, endsOn: until },
      { from: startsOn, most: 100 },
    );

  it("weekly on Tuesday and Thursday for five weeks", () => {
    expect(dates(1, [2, 4], "1997-09-02", "1997-10-06")).toEqual(
      days(
        "1997-09-02 1997-09-04 1997-09-09 1997-09-11 1997-09-16 1997-09-18 1997-09-23 1997-09-25 1997-09-30 1997-10-02",
      ),
    );
  });

  it("every other week on Monday, Wednesday and Friday until 24 December, starting on Monday 1 September", () => {
    // 24 December at 00:00 UTC comes before 09:00 of that day: the last date is the 22nd.
    expect(dates(2, [1, 3, 5], "1997-09-01", "1997-12-23")).toEqual(
      days(
        "1997-09-01 1997-09-03 1997-09-05 1997-09-15 1997-09-17 1997-09-19 1997-09-29 1997-10-01 1997-10-03 1997-10-13 1997-10-15 1997-10-17 1997-10-27 1997-10-29 1997-10-31 1997-11-10 1997-11-12 1997-11-14 1997-11-24 1997-11-26 1997-11-28 1997-12-08 1997-12-10 1997-12-12 1997-12-22",
      ),
    );
  });

  it("every other week on Tuesday and Thursday, for eight occurrences", () => {
    expect(dates(2, [2, 4], "1997-09-02", "1997-10-16")).toEqual(
      days("1997-09-02 1997-09-04 1997-09-16 1997-09-18 1997-09-30 1997-10-02 1997-10-14 1997-10-16"),
    );
  });

  it("weeks that begin on Monday: every other Tuesday and Sunday from 5 August", () => {
    expect(dates(2, [2, 7], "1997-08-05", "1997-08-24")).toEqual(
      days("1997-08-05 1997-08-10 1997-08-19 1997-08-24"),
    );
  });
});

describe("a rule", () => {
  it("is read back as the pattern it was made from", () => {
    for (const pattern of [
      { everyWeeks: 1, weekdays: [1] },
      { everyWeeks: 52, weekdays: [1, 2, 3, 4, 5, 6, 7] },
    ])
      expect(weeklyPattern(weeklyRule(pattern))).toEqual(pattern);
    expect(() => weeklyPattern("FREQ=MONTHLY;BYDAY=1FR")).toThrow("not a rule of standing orders");
  });
});

describe("the dates of a standing order", () => {
  const sundays: StandingCalendar = {
    rule: "FREQ=WEEKLY;BYDAY=SU",
    startsOn: "2027-03-07",
    endsOn: null,
    daysBefore: 7,
    stopped: false,
    pauses: [],
    seen: [],
  };

  it("are due so many days before, that day among them, and not when they have gone by", () => {
    expect(dueDates(sundays, "2027-03-06")).toEqual(["2027-03-07"]);
    expect(dueDates(sundays, "2027-03-07")).toEqual(["2027-03-07", "2027-03-14"]);
    expect(dueDates(sundays, "2027-03-08")).toEqual(["2027-03-14"]);
  });

  it("stay where they are over the clock changes of the workshop, whatever the machine's own zone", () => {
    const zone = process.env.TZ;
    try {
      for (const machine of ["UTC", "Europe/Berlin", "America/New_York", "Pacific/Kiritimati"]) {
        process.env.TZ = machine;
        // 28 March 2027 has 23 hours in Berlin.
        expect(nextDates(sundays, "2027-03-21", 3).map(({ date }) => date)).toEqual(
          days("2027-03-21 2027-03-28 2027-04-04"),
        );
      }
    } finally {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    }
  });

  it("are passed over in a pause, both its ends included", () => {
    const paused = { ...sundays, pauses: [{ firstDate: "2027-03-14", lastDate: "2027-03-21" }] };
    expect(nextDates(paused, "2027-03-07", 4).map(({ fate }) => fate.is)).toEqual([
      "ahead",
      "paused",
      "paused",
      "ahead",
    ]);
    const forGood = { ...sundays, pauses: [{ firstDate: "2027-03-14", lastDate: null }] };
    expect(nextDates(forGood, "2027-03-07", 3).map(({ fate }) => fate.is)).toEqual([
      "ahead",
      "paused",
      "paused",
    ]);
  });

  it("end with their end, and at once when it is stopped", () => {
    expect(nextDates({ ...sundays, endsOn: "2027-03-14" }, "2027-03-07", 9)).toHaveLength(2);
    expect(nextDates({ ...sundays, stopped: true }, "2027-03-07", 9)).toEqual([]);
  });
});
