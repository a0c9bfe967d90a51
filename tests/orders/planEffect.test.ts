import { describe, expect, it } from "vitest";
import { freedPieces, movedOrders } from "../../server/orders/planEffect.ts";
import type { PlanCase } from "../../server/planning/case.ts";
import type { Plan } from "../../server/planning/plan.ts";
import type { Fate } from "../../server/plans/fate.ts";
import type { Change } from "../../server/plans/whatChanged.ts";
import { findEndangered } from "../../server/week/endangered.ts";
import { effectHeadline } from "../../views/orders/planEffect.ts";

const empty: PlanCase = {
  ...{
    name: "a table by hand",
    sessions: [],
    mixers: 1,
    bowlGrams: 2600,
    minBowlGrams: 900,
    bowlMinutes: 30,
  },
  ...{
    mixMinutes: 20,
    cleanMinutes: 12,
    trays: 8,
    shapes: [],
    blends: [],
    products: [],
    stock: [],
    drying: [],
  },
  orders: [],
};

const order = (id: string, units: number) => ({
  ...{ id, terms: "complete" as const, shipBy: "2027-03-05", weight: 1 },
  lines: [{ product: "cedar", units }],
});

/** A plan of which only what becomes of the orders is looked at. */
function plan(fates: Readonly<Record<string, number>>): Plan {
  const orders = Object.entries(fates).map(([id, daysLate]) => ({
    id,
    daysLate,
    unitsShort: 0,
    readyOn: null,
  }));
  return { cost: 0, handMinutes: 0, bound: 0, runs: [], supplies: [], orders };
}

describe("pieces that nobody waits for any more", () => {
  const drying = [{ product: "cedar", units: 20, trays: 1, unmoldAt: null, packAt: "2027-03-02T09:00" }];
  const before = {
    ...empty,
    stock: [{ product: "cedar", units: 10 }],
    drying,
    orders: [order("W-1", 24), order("W-2", 12)],
  };

  it("are what is there and begun beyond what the others need, and what comes out of the box", () => {
    // 30 made or begun, 36 wanted: none to spare. Without W-1 12 are wanted, and 6 more come out of its box.
    const after = { ...before, orders: [order("W-2", 12)] };
    expect([...freedPieces(before, after, new Map([["cedar", 6]]))]).toEqual([["cedar", 24]]);
    expect([...freedPieces(before, after, new Map())]).toEqual([["cedar", 18]]);
  });

  it("are none where somebody else waits for them, or they were to spare before", () => {
    expect([...freedPieces(before, { ...before, orders: [order("W-2", 30)] }, new Map())]).toEqual([]);
    const spare = { ...before, orders: [order("W-2", 12)] };
    expect([...freedPieces(spare, spare, new Map())]).toEqual([]);
  });
});

describe("who moves", () => {
  it("is whoever is later or earlier against its date, the worst first", () => {
    const moved = movedOrders(plan({ a: 0, b: 3, c: 1, gone: 2 }), plan({ a: 2, b: 0, c: 1, fresh: 9 }));
    expect(moved.map((one) => [one.order, one.before.daysLate, one.after.daysLate])).toEqual([
      ["a", 0, 2],
      ["b", 3, 0],
    ]);
  });
});

describe("what is said of it", () => {
  const other = (before: Partial<Fate>, after: Partial<Fate>) => ({
    ...{ order: "W-7", orderId: 7, customer: "Heron & Thimble" },
    before: { daysLate: 0, unitsShort: 0, ...before },
    after: { daysLate: 0, unitsShort: 0, ...after },
  });
  const effect = { plan: "compared", moved: [], freed: [], own: null } as const;

  it("is later or earlier where only days are moved", () => {
    expect(effectHeadline(effect)).toBe("Nobody else becomes later.");
    const moved = [other({}, { daysLate: 2 }), other({ daysLate: 1 }, {}), other({ daysLate: 3 }, {})];
    expect(effectHeadline({ ...effect, moved })).toBe(
      "One order becomes later and two orders become earlier.",
    );
  });

  it("is worse or better off where pieces are short as well", () => {
    const moved = [other({ unitsShort: 6 }, { unitsShort: 1 })];
    expect(effectHeadline({ ...effect, moved })).toBe(
      "Nobody else becomes worse off and one order becomes better off.",
    );
  });

  it("begins with the order itself where it is late, and ends with what goes to the shelf", () => {
    const own = { daysLate: 1, unitsShort: 0, readyOn: "2027-03-04" };
    expect(effectHeadline({ ...effect, own, freed: [{ product: "Cedar ball", units: 12 }] })).toBe(
      "It is itself 1 day late, nobody else becomes later and 12 pieces go to the shelf.",
    );
  });
});

describe("a promise in danger", () => {
  const then = { planCase: { ...empty, orders: [order("W-1", 24)] }, plan: plan({ "W-1": 0 }) };
  const today = { ...empty, orders: [order("W-1", 24), order("W-9", 50)] };
  const taken: Change = { kind: "order-new", order: "W-9" };
  const lost: Change = { kind: "supply-changed", product: "cedar", units: -5 };

  it("is laid to the change without which it would be kept", async () => {
    // In time as soon as W-9 is away; five more cedar help nobody.
    const planIt = async ({ orders }: PlanCase) => [
      plan(orders.length === 2 ? { "W-1": 2, "W-9": 0 } : { "W-1": 0 }),
    ];
    expect(await findEndangered(then, today, [lost, taken], planIt)).toMatchObject([
      { order: "W-1", promised: { daysLate: 0 }, now: { daysLate: 2 }, because: taken },
    ]);
  });

  it("is laid to no single one where none alone would save it", async () => {
    const planIt = async ({ orders }: PlanCase) => [
      plan(Object.fromEntries(orders.map(({ id }) => [id, id === "W-1" ? 2 : 0]))),
    ];
    expect(await findEndangered(then, today, [lost, taken], planIt)).toMatchObject([
      { order: "W-1", because: null },
    ]);
  });

  it("is none where any plan on the way to the best keeps all of them", async () => {
    const two = { ...today, orders: [order("W-1", 24), order("W-2", 12)] };
    const planIt = async () => [plan({ "W-1": 0, "W-2": 0 }), plan({ "W-1": 2, "W-2": 0 })];
    expect(await findEndangered(then, two, [taken], planIt)).toEqual([]);
  });

  it("is none while the state is as the plan knew it, and unknown while nobody can plan", async () => {
    expect(await findEndangered(then, today, [], async () => [plan({ "W-1": 9 })])).toEqual([]);
    expect(await findEndangered(then, today, [taken], async () => null)).toBeNull();
  });
});
