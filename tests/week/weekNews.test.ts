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
};

const oat = { name: "Oat milk", colour: "#e8d6b3", pattern: "plain" } as const;
const fennel = { name: "Sea fennel", colour: "#6fb39d", pattern: "waves" } as const;

let lastId = 0;

const packed = { packing: null };

/** Pieces left to pack, and how many of them are on the shelf. */
const packing = (left: number, free: number, terms: "complete" | "as-ready" | "market" = "complete") => ({
  packing: { terms, left, free },
});

/** 36 pieces for a shop by Friday, nothing packed and nothing on the shelf, unless said otherwise. */
function order(given: Partial<OpenOrder> = {}): OpenOrder {
  lastId += 1;
  return {
    id: lastId,
    reference: `W-${100 + lastId}`,
    customer: "The Lamplit Otter",
    shipBy: "2027-03-05",
    ...packing(36, 0),
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
    const orders = [order({ reference: "W-1", ...gone }), order({ reference: "W-2", ...gone, ...packed })];
    expect(risksOf({ orders, outcomes: [planned("W-1", "2027-02-26")] })).toEqual([
      ["overdue", "W-1"],
      ["overdue", "W-2"],
    ]);
  });

  it("an order that leaves today is not overdue", () => {
    const orders = [order({ shipBy: "2027-03-01", ...packed })];
    expect(risksOf({ orders })).toEqual([]);
  });

  it("ready on its ship-by date is tight, a day before it is not", () => {
    const orders = [order({ reference: "W-1" }), order({ reference: "W-2" })];
    const outcomes = [planned("W-1", "2027-03-05"), planned("W-2", "2027-03-04")];
    expect(risksOf({ orders, outcomes })).toEqual([["tight", "W-1"]]);
  });

  it("a market is short of what is not there on its day; a shop is late", () => {
    const orders = [order({ reference: "M-1", ...packing(36, 0, "market") }), order({ reference: "W-1" })];
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
    const outcomes = [planned("W-1", "2027-03-07", { daysLate: 2 })];
    expect(risksOf({ orders: [order({ reference: "W-1", ...packing(36, 36) })], outcomes })).toEqual([]);
    expect(risksOf({ orders: [order({ reference: "W-1", ...packing(36, 35) })], outcomes })).toEqual([
      ["late", "W-1"],
    ]);
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
      order({ reference: "stall", shipBy: "2027-03-06", ...packing(36, 0, "market") }),
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
  const packedOf = (...orders: readonly OpenOrder[]) =>
    news({ orders }).toPack.map(({ reference }) => reference);

  it("is a whole order whose pieces are all on the shelf", () => {
    expect(packedOf(order({ reference: "W-1", ...packing(36, 36) }), order(packing(36, 35)))).toEqual([
      "W-1",
    ]);
  });

  it("is a part only for those who take parts", () => {
    expect(packedOf(order({ reference: "W-1", ...packing(36, 12, "as-ready") }))).toEqual(["W-1"]);
    expect(packedOf(order(packing(36, 0, "as-ready")))).toEqual([]);
  });

  it("is for a market crate what there is on the day, not before", () => {
    const stall = order({ reference: "M-1", ...packing(36, 12, "market"), shipBy: "2027-03-02" });
    expect(packedOf(stall)).toEqual([]);
    expect(packedOf({ ...stall, shipBy: "2027-03-01" })).toEqual(["M-1"]);
  });

  it("is said once: an order that leaves today or tomorrow is told there", () => {
    const orders = [
      order({ shipBy: "2027-03-02", ...packing(36, 36) }),
      order({ reference: "W-2", shipBy: "2027-03-03", ...packing(36, 36) }),
    ];
    expect(packedOf(...orders)).toEqual(["W-2"]);
  });

  it("leaves closed boxes alone, and asks for the last step of one that is full", () => {
    expect(packedOf(order(packed), order({ reference: "W-2", ...packing(0, 0) }))).toEqual(["W-2"]);
  });
});

describe("what leaves", () => {
  it("says what each still needs before it does", () => {
    const today = { shipBy: "2027-03-01" };
    const orders = [
      order({ ...today, ...packed }),
      order({ ...today, ...packing(6, 6) }),
      order(today),
      order({ shipBy: "2027-03-02" }),
      order({ shipBy: "2027-03-03", ...packed }),
      order({ shipBy: "2027-03-03" }),
    ];
    const { leaving } = news({ orders });
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
    const today = { shipBy: "2027-03-01", ...packed };
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

  it("says now when the session has begun", () => {
    expect(headline({ runs: [run({ startsAt: quiet.now })] })).toBe("Mix oat milk now.");
  });

  it("puts what has gone wrong first and stops after three things", () => {
    const orders = [
      order({ reference: "W-90", shipBy: "2027-02-26" }),
      order({ reference: "W-91", shipBy: "2027-03-01" }),
      order({ reference: "M-1", ...packing(36, 0, "market") }),
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
    const [, second] = orders;
    const filled = [order({ reference: "W-1", ...packing(36, 36) }), ...(second ? [second] : [])];
    expect(headline({ outcomes: null, orders: filled })).toBe("W-2 waits for a plan; W-1 can be packed.");
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
    const orders = [order({ reference: "W-1", shipBy: "2027-03-12", ...packing(36, 36) })];
    expect(headline({ orders })).toBe("W-1 can be packed.");
  });
});
