import { afterAll, describe, expect, it } from "vitest";
import { movedOrders } from "../../server/orders/planEffect.ts";
import type { Order, PlanCase } from "../../server/planning/case.ts";
import type { Plan } from "../../server/planning/plan.ts";
import { fillIn } from "../../server/planning/questions/fillIn.ts";
import { buildCase } from "../../server/plans/buildCase.ts";
import { carriedInto } from "../../server/plans/carriedOver.ts";
import { worsening } from "../../server/plans/fate.ts";
import { calmest, planInTurn } from "../../server/plans/planInTurn.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { withOrders } from "../../server/plans/withOrders.ts";
import { factsOf, orderOf } from "../build/planFacts.ts";

const planner = createPlanner({ searchSeconds: 0.3, threads: 1 });
afterAll(() => planner.close());

/** Twelve orders that want the same few molds in the same week: many plans are nearly as good as the best. */
function crowdedCase(): PlanCase {
  const orders = Array.from({ length: 12 }, (_, index) =>
    orderOf({ reference: `W-${index}`, lines: [{ product: "cedar/ball-60", units: 30 + 7 * (index % 5) }] }),
  );
  const built = buildCase(
    factsOf({ orders, stock: [{ product: "cedar/ball-60", units: 5 }] }),
    new Date("2027-03-01T08:00:00Z"),
  );
  if (!built.ok) throw new Error("no case");
  return built.value.planCase;
}

function changed(planCase: PlanCase, reference: string, change: Partial<Order>): PlanCase {
  const orders = planCase.orders.map((order) => (order.id === reference ? { ...order, ...change } : order));
  const other = withOrders(planCase, orders);
  if (other === null) throw new Error("no case");
  return other;
}

async function moved(before: PlanCase, after: PlanCase, changed: string) {
  const start = fillIn(before, { runs: [], supplies: [] }, 7);
  const both = await planInTurn(planner, { before, after, changed }, start, AbortSignal.timeout(60_000));
  if (!both.ok) throw new Error(both.refusal.kind);
  return { moved: movedOrders(...both.value), both: both.value };
}

describe("what a change does to the others", () => {
  it("is nothing where nothing is asked of the workshop that it does not do anyway", async () => {
    const before = crowdedCase();
    const last = before.sessions.at(-1)?.date ?? "";
    // The last to be served, which waits for nobody: later is the same work.
    const { both } = await moved(before, before, "nobody");
    const { id = "" } = [...both[0].orders].sort((one, other) => other.daysLate - one.daysLate)[0] ?? {};
    const { moved: others } = await moved(before, changed(before, id, { shipBy: last }), id);
    expect(others.filter(({ order }) => order !== id)).toEqual([]);
  });

  it("is seen where pieces are taken away from somebody", async () => {
    const before = crowdedCase();
    const product = "cedar/ball-60";
    const { moved: others } = await moved(
      before,
      changed(before, "W-0", { lines: [{ product, units: 300 }] }),
      "W-0",
    );
    expect(others.length).toBeGreaterThan(0);
  });
});

describe("cancelling an order", () => {
  it("makes nobody later, whomever it is and however long is searched", { timeout: 120_000 }, async () => {
    const before = crowdedCase();
    for (const id of ["W-0", "W-4", "W-9"]) {
      const after = withOrders(
        before,
        before.orders.filter((order) => order.id !== id),
      );
      if (after === null) throw new Error("no case");
      const { moved: others } = await moved(before, after, id);
      expect(others.filter((one) => worsening(one) > 0)).toEqual([]);
    }
  });
});

describe("of plans found on the way", () => {
  const plan = (cost: number, late: Readonly<Record<string, number>>): Plan => ({
    ...{ cost, handMinutes: 0, bound: 0, runs: [], supplies: [] },
    orders: Object.entries(late).map(([id, daysLate]) => ({ id, readyOn: null, daysLate, unitsShort: 0 })),
  });
  const before = plan(30, { a: 1, b: 2, own: 3 });

  it("the best is taken that makes nobody later, though a dearer one for somebody is better on the whole", () => {
    const kept = plan(20, { a: 1, b: 1, own: 0 });
    const plans = [plan(25, { a: 1, b: 2, own: 0 }), kept, plan(10, { a: 2, b: 0, own: 0 })];
    expect(calmest(before, plans, "own")).toBe(kept);
  });

  it("none is taken in which the changed order pays for the calm of the others", () => {
    const best = plan(10, { a: 2, b: 0, own: 0 });
    expect(calmest(before, [plan(20, { a: 1, b: 2, own: 1 }), best], "own")).toBe(best);
  });

  it("an order that is cancelled is not asked how it fares", () => {
    const kept = plan(20, { a: 1, b: 2 });
    expect(calmest(before, [kept, plan(10, { a: 0, b: 3 })], "own")).toBe(kept);
  });
});

describe("decisions for another question", () => {
  const supply = (order: string, units: number, session: number) => ({
    ...{ order, product: "cedar/ball-60", units, session },
    from: "run" as const,
  });

  it("are found again where their session stands, and are never more than is wanted there", () => {
    const planCase = crowdedCase();
    const plan = { runs: [], supplies: [supply("W-0", 30, 0), supply("W-1", 37, 1), supply("W-1", 5, 2)] };
    const later = { ...planCase, sessions: planCase.sessions.slice(1) };
    expect(carriedInto(later, { planCase, plan }).supplies).toEqual([supply("W-1", 37, 0)]);
    expect(carriedInto(planCase, { planCase, plan }).supplies).toEqual(plan.supplies.slice(0, 2));
  });

  it("give out what is ready or drying once", () => {
    const drying = [
      { product: "cedar/ball-60", units: 20, trays: 1, unmoldAt: null, packAt: "2027-03-02T09:00" },
      { product: "cedar/ball-60", units: 9, trays: 1, unmoldAt: null, packAt: "2027-03-03T09:00" },
    ];
    const planCase = { ...crowdedCase(), drying };
    const now = { ...planCase, drying: drying.slice(1) };
    const from = (order: string, units: number, place: number) => ({
      ...{ order, product: "cedar/ball-60", units },
      ...{ from: "drying" as const, drying: place },
    });
    const stock = { ...{ order: "W-4", product: "cedar/ball-60", units: 4 }, from: "stock" as const };
    const plan = {
      runs: [],
      supplies: [from("W-0", 20, 0), from("W-1", 6, 1), from("W-2", 6, 1), stock, { ...stock, order: "W-3" }],
    };
    expect(carriedInto(now, { planCase, plan }).supplies).toEqual([from("W-1", 6, 0), stock]);
  });
});
