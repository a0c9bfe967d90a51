import { afterAll, describe, expect, it } from "vitest";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import { buildCase } from "../../server/plans/buildCase.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { factsOf, orderOf } from "../build/planFacts.ts";

const planner = createPlanner({ searchSeconds: 0.1, holdUpSeconds: 0.1 });
afterAll(() => planner.close());

function tightCase() {
  const orders = [60, 80, 120].map((units, index) =>
    orderOf({ reference: `W-${index}`, lines: [{ product: "cedar/ball-60", units }] }),
  );
  const built = buildCase(factsOf({ orders }), new Date("2027-03-01T08:00:00Z"));
  if (!built.ok) throw new Error("no case");
  return built.value.planCase;
}

describe("the planner's threads", () => {
  it("answer with an allowed plan and with what holds the workshop up", async () => {
    const planCase = tightCase();
    const answer = await planner.plan(planCase, { seed: 1 });
    if (!answer.ok) throw new Error(answer.refusal.kind);
    expect(checkPlan(planCase, answer.value.plan)).toEqual([]);
    expect(answer.value.plan.cost).toBeGreaterThan(0);
    expect(answer.value.holdUps.resources.map(({ resource }) => resource)).toEqual([
      "moldSets",
      "trays",
      "handMinutes",
      "mixers",
    ]);
  });

  it("stop when nobody waits any more", async () => {
    const gone = new AbortController();
    const answer = planner.plan(tightCase(), { seed: 1, signal: gone.signal });
    gone.abort();
    expect(await answer).toMatchObject({ refusal: { kind: "planning-stopped" } });
  });

  it("refuse in words' reach when one of them dies, and serve the next question", async () => {
    const mortal = createPlanner({ worker: new URL("./dyingWorker.ts", import.meta.url) });
    for (const attempt of [1, 2]) {
      const answer = await mortal.plan(tightCase(), { seed: attempt });
      expect(answer).toMatchObject({ refusal: { kind: "planner-failed" } });
    }
    await mortal.close();
  });

  it("take on only so many questions at once", async () => {
    const planCase = tightCase();
    const asked = Array.from({ length: 16 }, (_, seed) => planner.plan(planCase, { seed }));
    const kinds = (await Promise.all(asked)).map((answer) => (answer.ok ? "plan" : answer.refusal.kind));
    expect(new Set(kinds)).toEqual(new Set(["plan", "planner-busy"]));
  });
});
