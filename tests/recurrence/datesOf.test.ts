import { describe, expect, it } from "vitest";
import { datesOf } from "../../server/recurrence/datesOf.ts";

/* The examples of RFC 5545, section 3.8.5.3, with the dates it gives for each. All begin in 1997, at 09:00 there. */
const starting = (startsOn: string, rule: string, endsOn: string | null = null) => ({
  rule,
  startsOn,
  endsOn,
});
const firstTen = { from: "1997-01-01", most: 10 };

describe("the dates of a recurrence (RFC 5545, 3.8.5.3)", () => {
  it("come every other week", () => {
    expect(datesOf(starting("1997-09-02", "FREQ=WEEKLY;INTERVAL=2;WKST=SU"), firstTen)).toEqual(
      "1997-09-02 1997-09-16 1997-09-30 1997-10-14 1997-10-28 1997-11-11 1997-11-25 1997-12-09 1997-12-23 1998-01-06".split(
        " ",
      ),
    );
  });

  it("come weekly on Tuesday and Thursday for five weeks", () => {
    expect(datesOf(starting("1997-09-02", "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH"), firstTen)).toEqual(
      "1997-09-02 1997-09-04 1997-09-09 1997-09-11 1997-09-16 1997-09-18 1997-09-23 1997-09-25 1997-09-30 1997-10-02".split(
        " ",
      ),
    );
  });

  it("come every other week on Monday, Wednesday and Friday", () => {
    const rule = "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR";
    expect(datesOf(starting("1997-09-01", rule), firstTen)).toEqual(
      "1997-09-01 1997-09-03 1997-09-05 1997-09-15 1997-09-17 1997-09-19 1997-09-29 1997-10-01 1997-10-03 1997-10-13".split(
        " ",
      ),
    );
  });

  it("come monthly on the first Friday", () => {
    expect(datesOf(starting("1997-09-05", "FREQ=MONTHLY;COUNT=10;BYDAY=1FR"), firstTen)).toEqual(
      "1997-09-05 1997-10-03 1997-11-07 1997-12-05 1998-01-02 1998-02-06 1998-03-06 1998-04-03 1998-05-01 1998-06-05".split(
        " ",
      ),
    );
  });

  it("come monthly on the second-to-last Monday", () => {
    expect(datesOf(starting("1997-09-22", "FREQ=MONTHLY;COUNT=6;BYDAY=-2MO"), firstTen)).toEqual(
      "1997-09-22 1997-10-20 1997-11-17 1997-12-22 1998-01-19 1998-02-16".split(" "),
    );
  });

  it("count the weeks from the day the week starts on", () => {
    const everyOther = (weekStart: string) =>
      datesOf(
        starting("1997-08-05", `FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=${weekStart}`),
        firstTen,
      );
    expect(everyOther("MO")).toEqual(["1997-08-05", "1997-08-10", "1997-08-19", "1997-08-24"]);
    expect(everyOther("SU")).toEqual(["1997-08-05", "1997-08-17", "1997-08-19", "1997-08-31"]);
  });
});

describe("the dates asked for", () => {
  const saturdays = starting("2027-03-06", "FREQ=WEEKLY;BYDAY=SA", "2027-04-03");

  it("begin with the first from a date on, that date among them", () => {
    expect(datesOf(saturdays, { from: "2027-03-13", most: 2 })).toEqual(["2027-03-13", "2027-03-20"]);
    expect(datesOf(saturdays, { from: "2027-03-14", most: 2 })).toEqual(["2027-03-20", "2027-03-27"]);
  });

  it("end with the recurrence, its last date among them, or sooner where that is asked", () => {
    expect(datesOf(saturdays, { from: "2027-03-25", most: 9 })).toEqual(["2027-03-27", "2027-04-03"]);
    expect(datesOf(saturdays, { from: "2027-03-25", most: 9, until: "2027-04-02" })).toEqual(["2027-03-27"]);
    expect(datesOf(saturdays, { from: "2027-04-04", most: 9 })).toEqual([]);
  });

  it("stay on their weekday over a clock change of any time zone", () => {
    expect(datesOf(saturdays, { from: "2027-03-06", most: 5 })).toEqual(
      "2027-03-06 2027-03-13 2027-03-20 2027-03-27 2027-04-03".split(" "),
    );
  });
});
