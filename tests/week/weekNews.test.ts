import { describe, expect, it } from "vitest";
import type { DryingLot, OpenOrder, OpenRun, WeekFacts } from "../../server/week/weekFacts.ts";
import { weekNews } from "../../server/week/weekNews.ts";
import { weekHeadline } from "../../views/week/weekHeadline.ts";

/* Monday 1 March 2027, 08:00. Facts are a quiet, planned workshop unless a test says otherwise. */

const quiet: WeekFacts = {
  now: new Date("2027-03-01T08:00:00Z"),
  today: "2027-03-01",
  tomorrow: "2027-03-02",
  hasProducts: true,
  hasSessions: true,
  outcomes: [],
  orders: [],
  runs: [],
  lots: [],
  free: new Map(),
};

const BALL = 1;
const HEART = 2;
const oat = { name: "Oat milk", colour: "#e8d6b3", pattern: "plain" } as const;
const fennel = { name: "Sea fennel", colour: "#6fb39d", pattern: "waves" } as const;

let lastId = 0;

/** 36 balls for a shop by Friday, nothing packed, unless said otherwise. */
function order(given: Partial<OpenOrder> = {}): OpenOrder {
  lastId += 1;
  return {
    id: lastId,
    reference: `W-${100 + lastId}`,
    customer: "The Lamplit Otter",
    terms: "complete",
    shipBy: "2027-03-05",
    state: "confirmed",
    toPack: [{ productId: BALL, units: 36 }],
    ...given,
  };
}

function planned(
  reference: string,
  readyOn: string | null,
  given: { daysLate?: number; unitsShort?: number } = {},
) {
  return { reference, readyOn, daysLate: 0, unitsShort: 0, ...given };
}

function run(given: Partial<OpenRun> = {}): OpenRun {
  lastId += 1;
  return {
    id: lastId,
    blend: oat,
    sessionDate: "2027-03-01",
    startsAt: new Date("2027-03-01T09:00:00Z"),
    endsAt: new Date("2027-03-01T13:00:00Z"),
    bowls: 2,
    units: 40,
    state: "planned",
    ...given,
  };
}

function lot(given: Partial<DryingLot> = {}): DryingLot {
  lastId += 1;
  return {
    id: lastId,
    code: "K7QM",
    product: "Oat milk, ball",
    blend: oat,
    units: 24,
    state: "drying",
    dueAt: new Date("2027-03-01T07:00:00Z"),
    dueOn: "2027-03-01",
    ...given,
  };
}

const news = (given: Partial<WeekFacts>) => weekNews({ ...quiet, ...given });
const headline = (given: Partial<WeekFacts>) => weekHeadline(news(given), "UTC");

describe("orders at risk", () => {
  const risksOf = (given: Partial<WeekFacts>) =>
    news(given).risks.map(({ kind, order }) => [kind, order.reference]);

  it("an order past its ship-by date is overdue, whatever the plan says, packed or not", () => {
    const gone = { shipBy: "2027-02-28" };
    const orders = [
      order({ reference: "W-1", ...gone }),
      order({ reference: "W-2", ...gone, state: "packed", toPack: [] }),
    ];
    expect(risksOf({ orders, outcomes: [planned("W-1", "2027-02-26")] })).toEqual([
      ["overdue", "W-1"],
      ["overdue", "W-2"],
    ]);
  });

  it("an order that leaves today is not overdue", () => {
    const orders = [order({ shipBy: "2027-03-01", state: "packed", toPack: [] })];
    expect(risksOf({ orders })).toEqual([]);
  });

  it("ready on its ship-by date is tight, a day before it is not", () => {
    const orders = [order({ reference: "W-1" }), order({ reference: "W-2" })];
    const outcomes = [planned("W-1", "2027-03-05"), planned("W-2", "2027-03-04")];
    expect(risksOf({ orders, outcomes })).toEqual([["tight", "W-1"]]);
  });

  it("a market is short of what is not there on its day; a shop is late", () => {
    const orders = [order({ reference: "M-1", terms: "market" }), order({ reference: "W-1" })];
    const outcomes = [
      planned("M-1", null, { daysLate: 16, unitsShort: 12 }),
      planned("W-1", "2027-03-07", { daysLate: 2 }),
    ];
    expect(news({ orders, outcomes }).risks).toMatchObject([
      { kind: "short", units: 12 },
      { kind: "late", days: 2, readyOn: "2027-03-07" },
    ]);
  });

  it("an order confirmed after the plan is not planned yet", () => {
    expect(risksOf({ orders: [order({ reference: "W-1" })] })).toEqual([["unplanned", "W-1"]]);
  });

  it("an order that the shelf can fill needs no plan any more", () => {
    const orders = [order({ reference: "W-1" }), order({ reference: "W-2" })];
    const outcomes = [planned("W-1", "2027-03-07", { daysLate: 2 })];
    expect(risksOf({ orders, outcomes, free: new Map([[BALL, 72]]) })).toEqual([]);
    // One piece fewer leaves the second order, which no plan knows, short of one.
    expect(risksOf({ orders, outcomes, free: new Map([[BALL, 71]]) })).toEqual([["unplanned", "W-2"]]);
  });

  it("without an accepted plan nothing is late by plan, only by the calendar", () => {
    const orders = [order({ reference: "W-1", shipBy: "2027-02-26" }), order({ reference: "W-2" })];
    expect(risksOf({ orders, outcomes: null })).toEqual([["overdue", "W-1"]]);
  });

  it("stand in the order of their urgency, each by its date", () => {
    const orders = [
      order({ reference: "gone", shipBy: "2027-02-26" }),
      order({ reference: "tight", shipBy: "2027-03-02" }),
      order({ reference: "new", shipBy: "2027-03-03" }),
      order({ reference: "late" }),
      order({ reference: "later" }),
      order({ reference: "stall", terms: "market", shipBy: "2027-03-06" }),
    ];
    const outcomes = [
      planned("tight", "2027-03-02"),
      planned("late", "2027-03-08", { daysLate: 3 }),
      planned("later", "2027-03-06", { daysLate: 1 }),
      planned("stall", null, { unitsShort: 1 }),
    ];
    expect(risksOf({ orders, outcomes }).map(([, reference]) => reference)).toEqual([
      "gone",
      "stall",
      "late",
      "later",
      "new",
      "tight",
    ]);
  });
});

describe("what to pack", () => {
  const packedOf = (given: Partial<WeekFacts>) =>
    news(given).toPack.map(({ order, units }) => [order.reference, units]);

  it("deals the shelf to the earliest order first and promises nothing twice", () => {
    const orders = [order({ reference: "W-1" }), order({ reference: "W-2" })];
    expect(packedOf({ orders, free: new Map([[BALL, 71]]) })).toEqual([["W-1", 36]]);
  });

  it("keeps the pieces of an order that waits for more from the orders after it", () => {
    const orders = [
      order({
        reference: "W-1",
        toPack: [
          { productId: BALL, units: 36 },
          { productId: HEART, units: 1 },
        ],
      }),
      order({ reference: "W-2" }),
    ];
    expect(packedOf({ orders, free: new Map([[BALL, 36]]) })).toEqual([]);
  });

  it("offers a part only to those who take parts", () => {
    const orders = [order({ reference: "W-1", terms: "as-ready" })];
    expect(packedOf({ orders, free: new Map([[BALL, 12]]) })).toEqual([["W-1", 12]]);
  });

  it("fills the market crate with what there is on the day, not before", () => {
    const free = new Map([[BALL, 12]]);
    const stall = order({ reference: "M-1", terms: "market", shipBy: "2027-03-02" });
    expect(packedOf({ orders: [stall], free })).toEqual([]);
    expect(packedOf({ orders: [{ ...stall, shipBy: "2027-03-01" }], free })).toEqual([["M-1", 12]]);
  });

  it("is said once: an order that leaves today or tomorrow is told there", () => {
    const orders = [
      order({ reference: "W-1", shipBy: "2027-03-02" }),
      order({ reference: "W-2", shipBy: "2027-03-03" }),
    ];
    expect(packedOf({ orders, free: new Map([[BALL, 72]]) })).toEqual([["W-2", 36]]);
  });

  it("leaves packed orders alone, and asks for the last step of one whose pieces are all in the box", () => {
    const orders = [
      order({ reference: "W-1", state: "packed", toPack: [] }),
      order({ reference: "W-2", state: "packing", toPack: [] }),
    ];
    expect(packedOf({ orders })).toEqual([["W-2", 0]]);
  });
});

describe("what leaves", () => {
  it("says what each still needs before it does", () => {
    const today = { shipBy: "2027-03-01" };
    const orders = [
      order({ ...today, state: "packed", toPack: [] }),
      order({ ...today, toPack: [{ productId: HEART, units: 6 }] }),
      order(today),
      order({ shipBy: "2027-03-02" }),
      order({ shipBy: "2027-03-03", state: "packed", toPack: [] }),
      order({ shipBy: "2027-03-03" }),
    ];
    const { leaving } = news({ orders, free: new Map([[HEART, 6]]) });
    expect(leaving.map(({ when, needs }) => [when, needs])).toEqual([
      ["today", "shipping"],
      ["today", "packing"],
      ["today", "pieces"],
      ["tomorrow", "pieces"],
      ["early", "shipping"],
    ]);
  });
});

describe("today's work", () => {
  it("a run is missed once its session is over and it was not begun", () => {
    const yesterday = run({
      sessionDate: "2027-02-28",
      startsAt: new Date("2027-02-28T09:00:00Z"),
      endsAt: new Date("2027-02-28T13:00:00Z"),
    });
    const told = news({ runs: [yesterday, { ...yesterday, id: 900, state: "mixing" }, run({ id: 901 })] });
    expect(told.missedRuns.map(({ id }) => id)).toEqual([yesterday.id]);
    expect(told.runsToday.map(({ id }) => id)).toEqual([900, 901]);
    expect(told.nextRun).toBeNull();
  });

  it("a lot's next step is due from the minute it is allowed", () => {
    const due = lot({ dueAt: quiet.now });
    const later = lot({ dueAt: new Date(quiet.now.getTime() + 60_000) });
    const told = news({ lots: [due, later] });
    expect([told.lotsDue, told.lotsLater]).toEqual([[due], [later]]);
  });
});

describe("the sentence of the morning", () => {
  it("says what leaves, what is late, and what to mix when", () => {
    const today = { shipBy: "2027-03-01", state: "packed", toPack: [] } as const;
    const orders = [order(today), order(today), order({ reference: "W-112" })];
    const outcomes = [planned("W-112", "2027-03-07", { daysLate: 2 })];
    const runs = [
      run({ blend: fennel }),
      run({ blend: oat }),
      run({ startsAt: new Date("2027-03-01T14:00:00Z") }),
    ];
    expect(headline({ orders, outcomes, runs })).toBe(
      "Two orders leave today; W-112 will be late by two days; mix sea fennel and oat milk at 09:00.",
    );
  });

  it("puts what has gone wrong first and stops after three things", () => {
    const orders = [
      order({ reference: "W-90", shipBy: "2027-02-26" }),
      order({ reference: "W-91", shipBy: "2027-03-01" }),
      order({ reference: "M-1", terms: "market" }),
    ];
    const outcomes = [planned("W-91", "2027-03-01"), planned("M-1", null, { unitsShort: 12 })];
    expect(headline({ orders, outcomes, runs: [run()] })).toBe(
      "W-90 should have left on Friday 26 February; W-91 leaves today; M-1 will be 12 pieces short.",
    );
  });

  it("names many late orders by their number", () => {
    const orders = [order({ reference: "W-1" }), order({ reference: "W-2" })];
    const outcomes = orders.map(({ reference }) => planned(reference, "2027-03-06", { daysLate: 1 }));
    expect(headline({ orders, outcomes })).toBe("Two orders will be late.");
  });

  it("asks for what is missing before a week can be told", () => {
    expect(headline({ hasProducts: false })).toBe("A new workshop. Say first what you make.");
    expect(headline({ hasSessions: false })).toBe("Say when you work, and the week can be planned.");
    expect(headline({ outcomes: null })).toBe("No orders yet. Take the first one.");
    const orders = [order({ reference: "W-1" }), order({ reference: "W-2", shipBy: "2027-03-12" })];
    expect(headline({ outcomes: null, orders })).toBe("Two orders wait for a plan.");
    const free = new Map([[BALL, 36]]);
    expect(headline({ outcomes: null, orders, free })).toBe("W-2 waits for a plan; W-1 can be packed.");
  });

  it("says that all is quiet, and what comes next", () => {
    expect(headline({})).toBe("All quiet: nothing is due, to be mixed or to be packed.");
    const runs = [
      run({
        sessionDate: "2027-03-03",
        startsAt: new Date("2027-03-03T09:00:00Z"),
        endsAt: new Date("2027-03-03T13:00:00Z"),
      }),
    ];
    expect(headline({ runs })).toBe("All quiet. The next mixing is on Wednesday 3 March.");
  });

  it("speaks of molds and shelf when nothing presses", () => {
    expect(headline({ lots: [lot(), lot({ units: 12 })] })).toBe("36 pieces may leave their molds.");
    const orders = [order({ reference: "W-1", shipBy: "2027-03-12" })];
    expect(headline({ orders, free: new Map([[BALL, 36]]) })).toBe("W-1 can be packed.");
  });
});
