import { describe, expect, it } from "vitest";
import { horizonOf } from "../../server/planning/timing/horizon.ts";
import { type BuiltCase, buildCase } from "../../server/plans/buildCase.ts";
import type { PlanFacts } from "../../server/plans/planFacts.ts";
import { ball, calendarOf, everyDay, factsOf, lotOf, orderOf } from "../build/planFacts.ts";

/** Monday 1 March 2027, an hour before the first session. */
const mondayMorning = new Date("2027-03-01T08:00:00Z");

function built(facts: Partial<PlanFacts> = {}, now = mondayMorning): BuiltCase {
  const outcome = buildCase(factsOf(facts), now);
  if (!outcome.ok) throw new Error(`no case: ${JSON.stringify(outcome.refusal)}`);
  return outcome.value;
}

describe("what the rows say", () => {
  it("becomes grams, minutes and hours exactly", () => {
    const { planCase } = built();
    expect(planCase).toMatchObject({ bowlGrams: 2600, minBowlGrams: 900, bowlMinutes: 30, trays: 8 });
    expect(planCase.shapes[0]).toEqual({
      id: "ball-60",
      moldSets: 24,
      driesIn: "half",
      moldHours: 16,
      restHours: 8,
      unitsPerTray: 20,
      grams: 118,
      formMinutes: 0.8,
      turnMinutes: 0.1,
      unmoldMinutes: 0.25,
      packMinutes: 1.1,
    });
  });

  it("keeps for every session its true instants", () => {
    const { planCase, sessionInstants } = built({ calendar: calendarOf({ timeZone: "Asia/Kolkata" }) });
    expect(planCase.sessions[0]).toMatchObject({ date: "2027-03-02", start: "09:00", end: "13:00" });
    expect(sessionInstants[0]?.startsAt.toISOString()).toBe("2027-03-02T03:30:00.000Z");
    expect(sessionInstants).toHaveLength(planCase.sessions.length);
  });
});

describe("across a clock change", () => {
  const saturday = (timeZone: string) => calendarOf({ timeZone, horizonDays: 4 });

  it.each([
    ["Europe/Lisbon", "2027-03-27T08:00:00Z", "08:00"],
    ["America/New_York", "2027-03-13T13:00:00Z", "08:00"],
    ["Europe/Lisbon", "2027-10-30T07:00:00Z", "10:00"],
    ["America/New_York", "2027-11-06T12:00:00Z", "10:00"],
  ])("in %s from %s the clock of the case counts elapsed minutes", (timeZone, now, sunday) => {
    const { planCase } = built({ calendar: saturday(timeZone) }, new Date(now));
    expect(planCase.sessions.map(({ start }) => start)).toEqual(["09:00", sunday, sunday, sunday]);
    // Dates stay the workshop's own, so that ship-by dates compare with them.
    const first = planCase.sessions[0]?.date ?? "";
    expect(planCase.sessions.map(({ date }) => date)).toEqual(
      [0, 1, 2, 3].map((days) =>
        new Date(Date.parse(`${first}T12:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10),
      ),
    );
  });

  it("a night that loses an hour has an hour less to dry", () => {
    // From Saturday 13:00 to Sunday 09:00 are 20 hours, but 19 in the night of 28 March 2027.
    const twenty = { shapes: [{ ...ball, moldMinutes: 20 * 60 }], calendar: saturday("Europe/Lisbon") };
    const unmoldedIn = (now: string) => {
      const { planCase } = built(twenty, new Date(now));
      const [shape] = planCase.shapes;
      return shape && horizonOf(planCase).ofForming(shape, 0).unmold;
    };
    expect(unmoldedIn("2027-03-20T08:00:00Z")).toBe(1);
    expect(unmoldedIn("2027-03-27T08:00:00Z")).toBe(2);
  });

  it("a night that wins an hour has an hour more", () => {
    const twentyOne = { shapes: [{ ...ball, moldMinutes: 21 * 60 }], calendar: saturday("Europe/Lisbon") };
    const unmoldedIn = (now: string) => {
      const { planCase } = built(twentyOne, new Date(now));
      const [shape] = planCase.shapes;
      return shape && horizonOf(planCase).ofForming(shape, 0).unmold;
    };
    expect(unmoldedIn("2027-10-23T07:00:00Z")).toBe(2);
    expect(unmoldedIn("2027-10-30T07:00:00Z")).toBe(1);
  });

  it("puts what is drying on the same clock", () => {
    // Due at 09:00 on Sunday by the wall clock, which is 08:00 UTC and 08:00 on Saturday's clock.
    const lot = lotOf({
      unmoldDueAt: new Date("2027-03-28T08:00:00Z"),
      readyDueAt: new Date("2027-03-28T08:00:00Z"),
    });
    const { planCase } = built(
      { calendar: saturday("Europe/Lisbon"), lots: [lot], shapes: [{ ...ball, restMinutes: 0 }] },
      new Date("2027-03-27T08:00:00Z"),
    );
    expect(planCase.drying[0]).toMatchObject({ unmoldAt: "2027-03-28T08:00", packAt: "2027-03-28T08:00" });
    expect(planCase.drying.map((drying) => horizonOf(planCase).ofDrying(drying))).toEqual([
      { unmold: 1, pack: 1 },
    ]);
  });

  it("refuses a session that a change of two hours would carry over midnight", () => {
    // At the Troll station clocks go back two hours on 31 October 2027; 22:30 is then 00:30 on the clock before.
    const [, ...rest] = everyDay;
    const late = {
      weekday: 7,
      startsMinute: 22 * 60,
      endsMinute: 22 * 60 + 59,
      handMinutes: 60,
      mixing: true,
    };
    const facts = factsOf({
      calendar: calendarOf({
        timeZone: "Antarctica/Troll",
        week: [...rest.slice(0, 5), late],
        horizonDays: 4,
      }),
    });
    expect(buildCase(facts, new Date("2027-10-30T00:00:00Z"))).toEqual({
      ok: false,
      refusal: { kind: "over-midnight", date: "2027-10-31" },
    });
  });
});

describe("what is drying", () => {
  it("leaves its mold and is packed when it is due", () => {
    const { planCase } = built({ lots: [lotOf()] });
    expect(planCase.drying).toEqual([
      {
        product: "cedar/ball-60",
        units: 12,
        trays: 1,
        unmoldAt: "2027-03-01T09:00",
        packAt: "2027-03-01T17:00",
      },
    ]);
  });

  it("begins its rest only when a session comes to unmold it", () => {
    // Due on Monday at 14:00, unmolded on Tuesday at 09:00, rested by 17:00.
    const lot = lotOf({
      unmoldDueAt: new Date("2027-03-01T14:00:00Z"),
      readyDueAt: new Date("2027-03-01T22:00:00Z"),
    });
    expect(built({ lots: [lot] }).planCase.drying[0]).toMatchObject({
      unmoldAt: "2027-03-01T14:00",
      packAt: "2027-03-02T17:00",
    });
  });

  it("is due now where it is overdue, in the mold or resting", () => {
    const overdue = new Date("2027-02-20T09:00:00Z");
    const { planCase } = built({
      lots: [
        lotOf({ unmoldDueAt: overdue, readyDueAt: overdue }),
        lotOf({ lotId: 2, state: "resting", unmoldDueAt: overdue, readyDueAt: overdue }),
      ],
    });
    expect(planCase.drying).toMatchObject([
      { unmoldAt: "2027-03-01T08:00", packAt: "2027-03-01T17:00" },
      { unmoldAt: null, packAt: "2027-03-01T08:00" },
    ]);
  });

  it("counts a lot being mixed as formed at the end of its session, slowed by damp air", () => {
    // Formed on Monday 13:00; 16 h x 1.5 = 24 h; unmolded on Wednesday 09:00 (Tuesday's session is over by 13:00);
    // 8 h x 1.5 = 12 h of rest.
    const lot = lotOf({
      state: "mixing",
      dryingFactor: 1.5,
      sessionEndsAt: new Date("2027-03-01T13:00:00Z"),
      unmoldDueAt: null,
      readyDueAt: null,
    });
    expect(built({ lots: [lot] }, new Date("2027-03-01T10:00:00Z")).planCase.drying[0]).toMatchObject({
      unmoldAt: "2027-03-02T13:00",
      packAt: "2027-03-03T21:00",
    });
  });
});

describe("a run on the bench", () => {
  const run = {
    startedAt: new Date("2027-03-01T09:00:00Z"),
    sessionEndsAt: new Date("2027-03-01T13:00:00Z"),
    bowls: 2,
    pieces: [{ product: "cedar/ball-60", units: 40 }],
  };

  it("keeps the hands it still needs from the plan", () => {
    // 2 x 20 + 12 + 40 x 0.8 = 84 minutes, of which one hand has worked 30: 54 are missing from the 210 left.
    const { planCase } = built({ runsOnBench: [run] }, new Date("2027-03-01T09:30:00Z"));
    expect(planCase.sessions[0]?.handMinutes).toBe(156);
    expect(planCase.sessions[1]?.handMinutes).toBe(240);
  });

  it("keeps none once the hands have had the time for it", () => {
    const { planCase } = built({ runsOnBench: [run] }, new Date("2027-03-01T10:30:00Z"));
    expect(planCase.sessions[0]?.handMinutes).toBe(150);
  });
});

describe("where there is no question", () => {
  it("says that no session comes", () => {
    const facts = factsOf({ calendar: calendarOf({ week: [] }) });
    expect(buildCase(facts, mondayMorning)).toEqual({ ok: false, refusal: { kind: "no-sessions" } });
  });

  it("says that no order waits", () => {
    expect(buildCase(factsOf({ orders: [] }), mondayMorning)).toEqual({
      ok: false,
      refusal: { kind: "no-orders" },
    });
  });

  it("says what is more than the planner takes", () => {
    const huge = orderOf({ lines: [{ product: "cedar/ball-60", units: 100_001 }] });
    expect(buildCase(factsOf({ orders: [huge] }), mondayMorning)).toMatchObject({
      refusal: { kind: "too-large", problems: [expect.stringContaining("100001 pieces")] },
    });
  });
});
