import { describe, expect, test } from "vitest";
import { costPlan, totalHandMinutes } from "../../server/planning/costPlan.ts";
import type { Decisions } from "../../server/planning/plan.ts";
import { planCase } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { dateOfDay, dayNumber, minuteOfDay, wholeMinutes } from "../../server/planning/timing/clock.ts";
import { horizonOf } from "../../server/planning/timing/horizon.ts";
import { caseFromJson } from "./caseFiles.ts";
import type { JsonCase, JsonOrder } from "./independentChecker.ts";
import { nineBalls, nothing, oneBowl, oneRun, withBall } from "./oneBowl.ts";

const cost = (json: JsonCase, decisions: Decisions) => costPlan(caseFromJson(json), decisions).lateness;
const withOrder = (change: Partial<JsonOrder>, rest: Partial<JsonCase> = {}): JsonCase => ({
  ...oneBowl,
  ...rest,
  orders: [{ ...nineBalls, ...change }],
});
const solved = (json: JsonCase) => planCase(caseFromJson(json), { seed: 1, stop: afterIterations(2000) });

describe("the calendar", () => {
  test("counts days over leap years and ends of centuries as the platform does", () => {
    for (let day = -150_000; day < 150_000; day += 37) {
      const date = new Date(day * 86_400_000).toISOString().slice(0, 10);
      if (!/^\d{4}-/.test(date)) continue;
      expect(dayNumber(date)).toBe(day);
      expect(dateOfDay(day)).toBe(date);
    }
  });

  test("knows which dates and times there are", () => {
    expect(dayNumber("2028-02-29")).not.toBeNull();
    expect(dayNumber("2027-02-29")).toBeNull();
    expect(dayNumber("2100-02-29")).toBeNull();
    expect(dayNumber("2027-04-31")).toBeNull();
    expect(minuteOfDay("23:59")).toBe(1439);
    expect(minuteOfDay("24:00")).toBe(1440);
    expect(minuteOfDay("24:01")).toBeNull();
  });

  test("rounds hours up to whole minutes, but not for the noise of decimals", () => {
    expect(wholeMinutes(1.1, 1.1)).toBe(73); // 1.21 h = 72.6 min
    expect(wholeMinutes(0.7, 1.1)).toBe(47); // 46.2 min
    expect(wholeMinutes(4.1, 3)).toBe(738); // 12.299999999999999 h or so, not 739
    expect(wholeMinutes(16, 1.5)).toBe(1440);
  });
});

describe("when a piece is dry", () => {
  const milestones = (moldHours: number, restHours: number, dryingFactor = 1) => {
    const json = withBall({ moldHours, restHours });
    const parsed = caseFromJson({
      ...json,
      sessions: json.sessions.map((session, at) => (at === 0 ? { ...session, dryingFactor } : session)),
    });
    const [shape] = parsed.shapes;
    if (shape === undefined) throw new Error("no shape");
    const { unmold, pack } = horizonOf(parsed).ofForming(shape, 0);
    return [unmold, pack];
  };

  test("it is unmolded in the first session that starts late enough", () => {
    expect(milestones(1, 0)).toEqual([1, 1]); // 13:00 + 1 h = 14:00, the afternoon's start
    expect(milestones(1.01, 0)).toEqual([2, 2]); // one minute later: Tuesday
    expect(milestones(20, 0)).toEqual([2, 2]); // 13:00 + 20 h = 09:00 on Tuesday
    expect(milestones(20.01, 0)).toEqual([3, 3]);
    expect(milestones(0, 0)).toEqual([1, 1]); // never in the session it is formed in
  });

  test("it is packed in the first session that starts late enough after it was unmolded", () => {
    expect(milestones(1, 19)).toEqual([1, 2]); // 14:00 + 19 h = 09:00
    expect(milestones(1, 19.01)).toEqual([1, 3]);
  });

  test("a damp day makes both take longer", () => {
    expect(milestones(10, 19, 2)).toEqual([2, 4]); // 13:00 + 20 h = Tuesday 09:00; + 38 h = Wednesday 23:00
    expect(milestones(10, 12, 2)).toEqual([2, 3]); // + 24 h = Wednesday 09:00
  });

  test("where no session is late enough it can't be made", () => {
    expect(milestones(68, 0)).toEqual([4, 4]); // 13:00 + 68 h = Thursday 09:00, the last session
    expect(milestones(69, 0)).toEqual([null, null]);
    expect(milestones(68, 1)).toEqual([4, null]);
  });
});

describe("what lateness costs", () => {
  test("a complete order counts all its units for the days of its last one", () => {
    // Ready on Wednesday 3 March. Due on Tuesday: 1 day x 9 units x weight 2.
    expect(cost(withOrder({ shipBy: "2027-03-03" }), oneRun)).toBe(0);
    expect(cost(withOrder({ shipBy: "2027-03-02", weight: 2 }), oneRun)).toBe(18);
    // Four from stock and five from the run: still all nine.
    const mixed: Decisions = {
      runs: oneRun.runs,
      supplies: [
        { order: "W-1", product: "cedar/ball", units: 4, from: "stock" },
        { order: "W-1", product: "cedar/ball", units: 5, from: "run", session: 0 },
      ],
    };
    const stock = [{ product: "cedar/ball", units: 4 }];
    expect(cost(withOrder({ shipBy: "2027-03-02" }, { stock }), mixed)).toBe(9);
    // As ready: only the five.
    expect(cost(withOrder({ shipBy: "2027-03-02", terms: "as-ready" }, { stock }), mixed)).toBe(5);
  });

  test("a unit never served counts to 7 days after the last session, and at least 7", () => {
    // Last session Thursday 4 March, so 11 March. Due on the 2nd: 9 days x 9 units.
    expect(cost(withOrder({ shipBy: "2027-03-02" }), nothing)).toBe(81);
    expect(cost(withOrder({ shipBy: "2027-03-05" }), nothing)).toBe(63); // 6 days to the 11th, so 7
    expect(cost(withOrder({ shipBy: "2027-03-04" }), nothing)).toBe(63); // exactly 7
    // One of nine missing makes a complete order wholly unserved, an as-ready one by a single unit.
    const eight: Decisions = {
      runs: oneRun.runs,
      supplies: [{ order: "W-1", product: "cedar/ball", units: 8, from: "run", session: 0 }],
    };
    expect(cost(withOrder({ shipBy: "2027-03-03" }), eight)).toBe(72); // 8 days x 9
    expect(cost(withOrder({ shipBy: "2027-03-03", terms: "as-ready" }), eight)).toBe(8);
  });

  test("a market counts a week for every unit that is not there", () => {
    expect(cost(withOrder({ shipBy: "2027-03-03", terms: "market" }), oneRun)).toBe(0);
    expect(cost(withOrder({ shipBy: "2027-03-02", terms: "market", weight: 3 }), nothing)).toBe(189); // 3 x 7 x 9
  });

  test("stock is on time even for an order due before the first session", () => {
    const stock = [{ product: "cedar/ball", units: 9 }];
    const fromStock: Decisions = {
      runs: [],
      supplies: [{ order: "W-1", product: "cedar/ball", units: 9, from: "stock" }],
    };
    for (const terms of ["complete", "as-ready", "market"]) {
      expect(cost(withOrder({ shipBy: "2027-02-20", terms }, { stock }), fromStock)).toBe(0);
    }
  });
});

test("hand minutes are those of everything the plan forms", () => {
  const { handMinutes } = costPlan(caseFromJson(oneBowl), oneRun);
  // Turned on Monday morning and afternoon: 9 x 2 x 0.1.
  expect(handMinutes).toEqual({
    mixing: 20,
    cleaning: 10,
    forming: 4.5,
    turning: 1.8,
    unmolding: 1.8,
    packing: 9,
  });
  expect(totalHandMinutes(handMinutes)).toBeCloseTo(47.1, 9);
});

describe("the best plan of a case worked out by hand", () => {
  test("one bowl on the first morning", () => {
    const plan = solved(oneBowl);
    expect(plan.runs).toEqual(oneRun.runs);
    expect(plan.cost).toBe(0);
    expect(plan.handMinutes).toBeCloseTo(47.1, 9);
  });

  test("a least bowl is filled up with pieces nobody ordered", () => {
    // 900 g are ordered, 1250 g are the least: four more balls of 100 g make 13, which 7 sets hold (2 x 7 - 1 = 13).
    const least = { ...withBall({ moldSets: 7 }), minBowlGrams: 1250 };
    expect(solved(least).runs).toEqual([
      { session: 0, blend: "cedar", bowls: 1, pieces: [{ product: "cedar/ball", units: 13 }] },
    ]);
    // With 6 sets 11 balls fit, 1100 g: the bowl can't be mixed at all.
    expect(solved({ ...withBall({ moldSets: 6 }), minBowlGrams: 1250 }).runs).toEqual([]);
  });

  test("the order that loses more by waiting goes first when only one fits", () => {
    // Room for one bowl on Monday; the other is mixed on Tuesday and ready on Thursday, a day late for either.
    const two: JsonCase = {
      ...oneBowl,
      bowlMinutes: 240,
      orders: [
        { ...nineBalls, id: "small", lines: [{ product: "oat/ball", units: 8 }] },
        { ...nineBalls, id: "large" },
      ],
    };
    expect(solved(two).cost).toBe(8);
    const heavy = { ...two, orders: two.orders.map((order, at) => ({ ...order, weight: at === 0 ? 2 : 1 })) };
    expect(solved(heavy).cost).toBe(9);
  });
});
