import { describe, expect, it } from "vitest";
import { type Calendar, type ComingSession, comingSessions } from "../../server/plans/calendar.ts";
import { calendarOf, everyDay } from "../build/planFacts.ts";

/** 1 March 2027 is a Monday. */
const mondayMorning = new Date("2027-03-01T08:00:00Z");

function sessions(calendar: Partial<Calendar>, now = mondayMorning): readonly ComingSession[] {
  return comingSessions(calendarOf(calendar), now);
}

const span = ({ startsAt, endsAt }: ComingSession) => `${iso(startsAt)} ${iso(endsAt)}`;
const iso = (instant: Date) => instant.toISOString().slice(0, 16);

describe("the ordinary week", () => {
  it("is laid over the dates of the horizon, today the first of them", () => {
    expect(sessions({ horizonDays: 3 }).map(({ date }) => date)).toEqual([
      "2027-03-01",
      "2027-03-02",
      "2027-03-03",
    ]);
  });

  it("gives each weekday its own sessions, in time order", () => {
    const [monday] = everyDay;
    if (!monday) throw new Error("a week begins on a Monday");
    const evening = { ...monday, startsMinute: 18 * 60, endsMinute: 20 * 60 };
    expect(sessions({ week: [evening, monday], horizonDays: 7 }).map(span)).toEqual([
      "2027-03-01T09:00 2027-03-01T13:00",
      "2027-03-01T18:00 2027-03-01T20:00",
    ]);
  });

  it("counts today by the workshop's own date, not by the server's", () => {
    // 12:00 UTC on 28 February is 01:00 on 1 March in Auckland, then 13 hours ahead.
    const [first] = sessions({ timeZone: "Pacific/Auckland" }, new Date("2027-02-28T12:00:00Z"));
    expect(first?.date).toBe("2027-03-01");
    expect(first?.startsAt.toISOString()).toBe("2027-02-28T20:00:00.000Z");
  });
});

describe("exceptions", () => {
  it("a day off takes away the date's ordinary sessions and leaves an extra one", () => {
    const off = { kind: "day-off", onDate: "2027-03-02" } as const;
    const extra = {
      kind: "extra",
      onDate: "2027-03-02",
      startsMinute: 17 * 60,
      endsMinute: 19 * 60,
      handMinutes: 100,
      mixing: false,
    } as const;
    expect(sessions({ exceptions: [off], horizonDays: 3 }).map(({ date }) => date)).toEqual([
      "2027-03-01",
      "2027-03-03",
    ]);
    const [, evening] = sessions({ exceptions: [off, extra], horizonDays: 3 });
    expect(evening).toMatchObject({ date: "2027-03-02", handMinutes: 100, mixing: false });
  });

  it("an extra session that overlaps an ordinary one adds its hands to it", () => {
    const extra = {
      kind: "extra",
      onDate: "2027-03-01",
      startsMinute: 12 * 60,
      endsMinute: 15 * 60,
      handMinutes: 60,
      mixing: true,
    } as const;
    const [monday, ...rest] = sessions({ exceptions: [extra], horizonDays: 1 });
    expect(rest).toEqual([]);
    expect(monday && span(monday)).toBe("2027-03-01T09:00 2027-03-01T15:00");
    expect(monday?.handMinutes).toBe(300);
  });

  it("damp air slows what is formed on its date, and on no other", () => {
    const damp = { kind: "damp", onDate: "2027-03-02", dryingFactor: 1.4 } as const;
    expect(sessions({ exceptions: [damp], horizonDays: 3 }).map(({ dryingFactor }) => dryingFactor)).toEqual([
      1, 1.4, 1,
    ]);
  });
});

describe("the session under way", () => {
  it("counts whole until its first minute has passed", () => {
    const [first] = sessions({}, new Date("2027-03-01T09:00:00Z"));
    expect(first).toMatchObject({ handMinutes: 240, startsAt: new Date("2027-03-01T09:00:00Z") });
  });

  it("counts from the next whole minute, its hands in proportion to what is left, rounded down", () => {
    // 10:10:20 counts from 10:11; 169 of 240 minutes are left: 240 x 169/240 = 169.
    const [first] = sessions({}, new Date("2027-03-01T10:10:20Z"));
    expect(first && span(first)).toBe("2027-03-01T10:11 2027-03-01T13:00");
    expect(first?.handMinutes).toBe(169);
  });

  it("is over when no whole minute is left of it", () => {
    const [first] = sessions({}, new Date("2027-03-01T12:59:30Z"));
    expect(first?.date).toBe("2027-03-02");
  });
});

// The days of the changes come from the IANA time zone database as Node carries it.
describe("a planned 09:00 stays 09:00 on the workshop's clock", () => {
  it.each([
    ["Europe/Lisbon, forward", "Europe/Lisbon", "2027-03-27", ["09:00Z", "08:00Z"]],
    ["Europe/Lisbon, back", "Europe/Lisbon", "2027-10-30", ["08:00Z", "09:00Z"]],
    ["America/New_York, forward", "America/New_York", "2027-03-13", ["14:00Z", "13:00Z"]],
    ["America/New_York, back", "America/New_York", "2027-11-06", ["13:00Z", "14:00Z"]],
    ["Australia/Lord_Howe, back by half an hour", "Australia/Lord_Howe", "2027-04-03", ["22:00Z", "22:30Z"]],
    ["Asia/Kolkata, half an hour beside, never changed", "Asia/Kolkata", "2027-03-27", ["03:30Z", "03:30Z"]],
  ])("%s", (_, timeZone, date, instants) => {
    const now = new Date(`${date}T00:00:00Z`);
    const from = sessions({ timeZone, horizonDays: 4 }, new Date(now.getTime() - 24 * 60 * 60 * 1000));
    const [before, after] = from.filter((session) => session.date >= date);
    expect([before, after].map((session) => `${session?.startsAt.toISOString().slice(11, 16)}Z`)).toEqual(
      instants,
    );
    // The first may be under way.
    for (const session of from.slice(1)) {
      const local = session.startsAt.toLocaleTimeString("en-GB", {
        timeZone,
        hour: "2-digit",
        minute: "2-digit",
      });
      expect(local).toBe("09:00");
      expect(session.handMinutes).toBe(240);
    }
  });

  it("a session that loses an hour to the change loses its share of the hands", () => {
    // On 28 March 2027 clocks in Lisbon go from 01:00 to 02:00: of 01:00 to 04:00 two hours are left.
    const night = { weekday: 7, startsMinute: 60, endsMinute: 240, handMinutes: 180, mixing: true };
    const [sunday] = sessions(
      { timeZone: "Europe/Lisbon", week: [night], horizonDays: 2 },
      new Date("2027-03-27T12:00:00Z"),
    );
    expect(sunday && span(sunday)).toBe("2027-03-28T01:00 2027-03-28T03:00");
    expect(sunday?.handMinutes).toBe(120);
  });

  it("a time that comes twice is the first of the two, whatever time of year it is planned in", () => {
    // On 31 October 2027 clocks in Lisbon go from 02:00 back to 01:00: 01:30 is 00:30 UTC, then 01:30 UTC.
    const night = { weekday: 7, startsMinute: 90, endsMinute: 180, handMinutes: 60, mixing: true };
    const given = { timeZone: "Europe/Lisbon", week: [night], horizonDays: 9 };
    for (const now of ["2027-10-25T12:00:00Z", "2027-10-30T12:00:00Z"]) {
      const [sunday] = sessions(given, new Date(now));
      expect(sunday && span(sunday)).toBe("2027-10-31T00:30 2027-10-31T03:00");
      expect(sunday?.handMinutes).toBe(60);
    }
  });
});
