import { describe, expect, it } from "vitest";
import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { whatHoldsUp } from "../../server/planning/questions/whatHoldsUp.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { boardFigures } from "../../server/plans/boardFigures.ts";
import type { KeptPlan } from "../../server/plans/keptPlan.ts";
import { orderFigures } from "../../server/plans/orderFigures.ts";
import type { PlanNames } from "../../server/plans/queries.ts";
import { caseOfFile } from "../planning/caseFiles.ts";

/** Codes instead of names. */
const names: PlanNames = {
  blend: (code) => ({ name: code, colour: "#c98a3d", pattern: "dots" }),
  product: (code) => code,
  shape: (code) => code,
  order: () => ({ orderId: null, customer: "" }),
};

/** A case of the planner's own tests, planned as well as a moment allows. */
function planned(name: string): KeptPlan {
  const planCase = caseOfFile(`${name}.json`);
  const plan = findPlan(planCase, { seed: 1, stop: afterIterations(2_000) });
  const holdUps = whatHoldsUp(planCase, { seed: 1, plan, effort: () => afterIterations(1) });
  const sessionInstants = planCase.sessions.map(({ date, start, end }) => ({
    startsAt: new Date(`${date}T${start}:00Z`),
    endsAt: new Date(`${date}T${end === "24:00" ? "23:59" : end}:00Z`),
  }));
  return { planCase, plan, holdUps, sessionInstants };
}

describe.each(["week-0", "damp-1", "mold-bound-0", "tray-bound-0"])("the drying board of %s", (name) => {
  const kept = planned(name);
  const board = boardFigures(kept, names);

  it("stacks up to exactly what is in use, in every band and session", () => {
    for (const { kind, shape, stacks } of board.bands) {
      for (const [session, { used, amounts }] of stacks.entries()) {
        const sum = amounts.reduce((total, amount) => total + amount, 0);
        expect(sum, `${kind} ${shape} in session ${session}`).toBeCloseTo(used, 6);
      }
    }
  });

  it("has a band for hands, trays, and every shape of which a mold is in use", () => {
    const shapes = new Set(
      kept.plan.runs.flatMap(({ pieces }) =>
        pieces.map(({ product }) => kept.planCase.products.find(({ id }) => id === product)?.shape ?? ""),
      ),
    );
    const held = kept.planCase.shapes.filter(({ id, driesIn }) => driesIn !== "none" && shapes.has(id));
    const bands = board.bands.map(({ kind, shape }) => `${kind} ${shape}`.trim());
    expect(bands).toEqual(expect.arrayContaining([...held.map(({ id }) => `molds ${id}`), "trays", "hands"]));
  });

  it("gives every block a place of its own on the page", () => {
    const anchors = board.blocks.map(({ anchor }) => anchor);
    expect(new Set(anchors).size).toBe(anchors.length);
  });

  it("lets every order's sources add up to what it gets", () => {
    for (const order of orderFigures(kept, names)) {
      const served = order.sources.reduce((sum, { units }) => sum + units, 0);
      if (!order.market) expect(served + order.unitsShort, order.reference).toBe(order.units);
      expect(order.fate === "short").toBe(order.unitsShort > 0);
    }
  });
});
