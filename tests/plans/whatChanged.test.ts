import { describe, expect, it } from "vitest";
import { buildCase } from "../../server/plans/buildCase.ts";
import type { PlanFacts } from "../../server/plans/planFacts.ts";
import { type Change, whatChanged } from "../../server/plans/whatChanged.ts";
import { ball, calendarOf, everyDay, factsOf, lotOf, orderOf } from "../build/planFacts.ts";

const product = "cedar/ball-60";
const planned = new Date("2027-03-01T08:00:00Z");
const noon = new Date("2027-03-01T12:00:00Z");

function caseOf(facts: Partial<PlanFacts>, at: Date) {
  const outcome = buildCase(factsOf(facts), at);
  if (!outcome.ok) throw new Error(`no case: ${JSON.stringify(outcome.refusal)}`);
  return outcome.value;
}

/** What a plan made at 08:00 finds changed at noon. */
function changes(
  then: Partial<PlanFacts>,
  today: Partial<PlanFacts>,
  called: readonly string[] = [],
): readonly Change[] {
  return whatChanged(caseOf(then, planned), caseOf(today, noon), { called: new Set(called), now: noon });
}

const shelf = (units: number) => ({ stock: units === 0 ? [] : [{ product, units }] });
const ordered = (units: number, reference = "W-104") => orderOf({ reference, lines: [{ product, units }] });

describe("a working day leaves a plan as good as it was", () => {
  it("when nothing happens but time", () => {
    expect(changes({}, {})).toEqual([]);
  });

  it("when pieces of the shelf are packed", () => {
    // 10 of the 36 are packed: 10 fewer on the shelf, 10 fewer to pack.
    const then = { ...shelf(12), orders: [ordered(36)] };
    expect(changes(then, { ...shelf(2), orders: [ordered(26)] })).toEqual([]);
  });

  it("when an order is packed to the last piece", () => {
    const then = { ...shelf(12), orders: [ordered(12), ordered(36, "W-105")] };
    expect(changes(then, { orders: [ordered(36, "W-105")] })).toEqual([]);
  });

  it("when a lot is unmolded, and when it is ready", () => {
    const drying = { lots: [lotOf()] };
    expect(changes(drying, { lots: [lotOf({ state: "resting" })] })).toEqual([]);
    expect(changes(drying, shelf(12))).toEqual([]);
  });
});

describe("what matters to a plan", () => {
  it.each<[string, Partial<PlanFacts>, Partial<PlanFacts>, readonly Change[]]>([
    [
      "a new order",
      {},
      { orders: [ordered(36), ordered(5, "W-110")] },
      [{ kind: "order-new", order: "W-110" }],
    ],
    [
      "an order that asks for more",
      {},
      { orders: [ordered(40)] },
      [{ kind: "more-ordered", order: "W-104", product, units: 4 }],
    ],
    [
      "an order that asks for less",
      {},
      { orders: [ordered(30)] },
      [{ kind: "supply-changed", product, units: 6 }],
    ],
    [
      "another date",
      {},
      { orders: [orderOf({ shipBy: "2027-03-04" })] },
      [{ kind: "order-changed", order: "W-104" }],
    ],
    ["pieces lost", shelf(12), shelf(11), [{ kind: "supply-changed", product, units: -1 }]],
    ["a run begun", {}, { lots: [lotOf()] }, [{ kind: "supply-changed", product, units: 12 }]],
    [
      "a mold set broken",
      {},
      { shapes: [{ ...ball, moldSets: 23 }] },
      [{ kind: "shape-changed", shape: "ball-60" }],
    ],
    ["a tray more", {}, { workshop: { ...factsOf().workshop, trays: 9 } }, [{ kind: "workshop-changed" }]],
    [
      "a day off",
      {},
      { calendar: calendarOf({ exceptions: [{ kind: "day-off", onDate: "2027-03-02" }] }) },
      [{ kind: "session-gone", date: "2027-03-02" }],
    ],
    [
      "a damp day",
      {},
      { calendar: calendarOf({ exceptions: [{ kind: "damp", onDate: "2027-03-02", dryingFactor: 2 }] }) },
      [{ kind: "session-changed", date: "2027-03-02" }],
    ],
    [
      "an extra session",
      {},
      {
        calendar: calendarOf({
          exceptions: [
            {
              kind: "extra",
              onDate: "2027-03-02",
              startsMinute: 1000,
              endsMinute: 1100,
              handMinutes: 60,
              mixing: true,
            },
          ],
        }),
      },
      [{ kind: "session-new", date: "2027-03-02" }],
    ],
    [
      "other hands",
      {},
      { calendar: calendarOf({ week: everyDay.map((day) => ({ ...day, handMinutes: 120 })) }) },
      ["02", "03", "04", "05"].map((day) => ({ kind: "session-changed" as const, date: `2027-03-${day}` })),
    ],
  ])("%s", (_, then, today, expected) => {
    expect(changes(then, today)).toEqual(expected);
  });

  it("an order called off", () => {
    const both = { orders: [ordered(36), ordered(5, "W-105")] };
    expect(changes(both, { orders: [ordered(36)] }, ["W-105"])).toEqual([
      { kind: "order-gone", order: "W-105" },
    ]);
  });
});
