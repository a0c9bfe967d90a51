import { describe, expect, it } from "vitest";
import {
  clockWords,
  dateOf,
  dayAfter,
  daysBetween,
  dayWords,
  minuteOfDayWords,
  momentWords,
} from "../../views/format/dates.ts";
import {
  counted,
  minutesWords,
  pieces,
  plainNumber,
  spelled,
  spelledCount,
  weightWords,
  wholeWords,
} from "../../views/format/quantities.ts";
import { listed, sentence } from "../../views/format/sentence.ts";

describe("dates in words", () => {
  it("always say the weekday", () => {
    expect(dayWords("2027-03-05")).toBe("Friday 5 March");
    expect(dayWords("2027-12-31", { year: true })).toBe("Friday 31 December 2027");
  });

  it("show an instant on the workshop's own clock, across its clock change", () => {
    // Lisbon springs forward at 01:00 UTC on Sunday 28 March 2027 (EU rule: last Sunday of March).
    expect(momentWords(new Date("2027-03-28T00:59:00Z"), "Europe/Lisbon")).toBe("Sun 28 Mar 00:59");
    expect(momentWords(new Date("2027-03-28T01:00:00Z"), "Europe/Lisbon")).toBe("Sun 28 Mar 02:00");
  });

  it("name the workshop's date, which may not be Greenwich's", () => {
    const lateEvening = new Date("2027-03-01T23:30:00Z");
    expect(dateOf(lateEvening, "Asia/Kolkata")).toBe("2027-03-02");
    expect(clockWords(lateEvening, "Asia/Kolkata")).toBe("05:00");
    expect(dateOf(lateEvening, "America/New_York")).toBe("2027-03-01");
  });

  it("count calendar days, not hours", () => {
    expect(daysBetween("2027-03-26", "2027-03-29")).toBe(3);
    expect(daysBetween("2027-03-05", "2027-03-01")).toBe(-4);
    expect(daysBetween("2028-02-28", "2028-03-01")).toBe(2);
  });

  it("know the day after, at the end of a month too", () => {
    expect([dayAfter("2027-03-05"), dayAfter("2028-02-28")]).toEqual(["2027-03-06", "2028-02-29"]);
  });

  it("write minutes of the day as a clock", () => {
    expect([0, 570, 1439].map(minuteOfDayWords)).toEqual(["00:00", "09:30", "23:59"]);
  });
});

describe("quantities in words", () => {
  it("count one thing as one", () => {
    expect([pieces(0), pieces(1), pieces(36)]).toEqual(["0 pieces", "1 piece", "36 pieces"]);
    expect(counted(2, "batch", "batches")).toBe("2 batches");
  });

  it("spell small counts in a sentence", () => {
    expect([spelled(0, "order"), spelled(1, "order"), spelled(12, "order"), spelled(13, "order")]).toEqual([
      "no orders",
      "one order",
      "twelve orders",
      "13 orders",
    ]);
  });

  it("group thousands by a thin space that does not break", () => {
    expect(wholeWords(1250)).toBe("1\u202f250");
  });

  it("turn milligrams into what a scale shows", () => {
    expect([weightWords(118_000), weightWords(2_600_000), weightWords(999_999)]).toEqual([
      "118 g",
      "2.6 kg",
      "999.999 g",
    ]);
  });

  it("leave out zeros that say nothing", () => {
    expect([0.8, 16, 19.5, 1019.5].map(plainNumber)).toEqual(["0.8", "16", "19.5", "1\u202f019.5"]);
  });

  it("speak of hours from an hour on", () => {
    expect([minutesWords(45), minutesWords(60), minutesWords(200)]).toEqual(["45 min", "1 h", "3 h 20 min"]);
  });
});

describe("sentences", () => {
  it("begin large and end in a full stop", () => {
    expect(sentence("two orders leave today; W-104 waits")).toBe("Two orders leave today; W-104 waits.");
  });

  it("list names as one says them", () => {
    expect([[], ["cedar"], ["cedar", "oat"], ["cedar", "oat", "sea fennel"]].map(listed)).toEqual([
      "",
      "cedar",
      "cedar and oat",
      "cedar, oat and sea fennel",
    ]);
  });

  it("spell a count whose thing was named before", () => {
    expect([0, 12, 13, 1250].map(spelledCount)).toEqual(["no", "twelve", "13", "1\u202f250"]);
  });
});
