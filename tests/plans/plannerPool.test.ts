import { afterAll, describe, expect, it } from "vitest";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import { compareCosts, costPlan } from "../../server/planning/costPlan.ts";
import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { buildCase } from "../../server/plans/buildCase.ts";
import { CallOff } from "../../server/plans/callOff.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { askHoldUps } from "../../server/plans/planWorker.ts";
import { factsOf, orderOf } from "../build/planFacts.ts";
import { caseOfFile } from "../planning/caseFiles.ts";
import { MOVES } from "./scriptedWorker.ts";

const planner = createPlanner({ searchSeconds: 0.1, holdUpSeconds: 0.1, threads: 2 });
const scripted = createPlanner({ threads: 3, worker: new URL("./scriptedWorker.ts", import.meta.url) });
afterAll(async () => {
  await planner.close();
  await scripted.close();
});

function tightCase() {
  const orders = [60, 80, 120].map((units, index) =>
    orderOf({ reference: `W-${index}`, lines: [{ product: "cedar/ball-60", units }] }),
  );
  const built = buildCase(factsOf({ orders }), new Date("2027-03-01T08:00:00Z"));
  if (!built.ok) throw new Error("no case");
  return built.value.planCase;
}

async function found(...asked: Parameters<typeof planner.search>) {
  const answer = await scripted.search(...asked);
  if (!answer.ok) throw new Error(answer.refusal.kind);
  return answer.value;
}

describe("the planner's threads", () => {
  it("answer with an allowed plan, with what holds the workshop up, and why orders are late", async () => {
    const planCase = tightCase();
    const answer = await planner.search(planCase, { seed: 1 });
    if (!answer.ok) throw new Error(answer.refusal.kind);
    const { plan } = answer.value;
    expect(checkPlan(planCase, plan)).toEqual([]);
    expect(plan.cost).toBeGreaterThan(0);
    const asked = await planner.askHoldUps(planCase, answer.value, {});
    if (!asked.ok) throw new Error(asked.refusal.kind);
    expect(asked.value.holdUps.resources.map(({ resource }) => resource)).toEqual([
      "moldSets",
      "trays",
      "handMinutes",
      "mixers",
    ]);
    const reasons = await planner.giveReasons(planCase, plan);
    const late = plan.orders.filter(({ daysLate, unitsShort }) => daysLate + unitsShort > 0);
    expect(reasons.ok && reasons.value.map(({ outcome }) => outcome.id)).toEqual(late.map(({ id }) => id));
  });

  it("refuse in words' reach when one of them dies, and serve the next question", async () => {
    const mortal = createPlanner({ threads: 2, worker: new URL("./dyingWorker.ts", import.meta.url) });
    for (const attempt of [1, 2]) {
      const answer = await mortal.search(tightCase(), { seed: attempt });
      expect(answer).toMatchObject({ refusal: { kind: "planner-failed" } });
    }
    await mortal.close();
  });

  it("take on only so many questions at once", async () => {
    const planCase = tightCase();
    const asked = Array.from({ length: 16 }, (_, seed) => planner.search(planCase, { seed }));
    const kinds = (await Promise.all(asked)).map((answer) => (answer.ok ? "plan" : answer.refusal.kind));
    expect(new Set(kinds)).toEqual(new Set(["plan", "planner-busy"]));
  });
});

describe("several searches side by side", () => {
  it("give the best plan of all, of equals that of the lowest seed", async () => {
    const planCase = caseOfFile("week-3.json");
    for (const first of [1, 4, 7]) {
      const plans = [first, first + 1, first + 2].map((seed) => ({
        seed,
        plan: findPlan(planCase, { seed, stop: afterIterations(MOVES), prove: false }),
      }));
      const costs = plans.map(({ plan }) => costPlan(planCase, plan));
      const best = plans.filter((_, one) =>
        costs.every((cost, other) => {
          const less = compareCosts(costs[one] ?? cost, cost);
          return less < 0 || (less === 0 && one <= other);
        }),
      );
      const { seed, plan } = await found(planCase, { seed: first });
      expect([{ seed, runs: plan.runs }]).toEqual(
        best.map((each) => ({ seed: each.seed, runs: each.plan.runs })),
      );
    }
  });

  it("tell each better plan, the last of them the one they give", async () => {
    const planCase = caseOfFile("week-3.json");
    const costs: number[] = [];
    const { plan } = await found(planCase, { seed: 1, onBetter: (better) => costs.push(better.plan.cost) });
    expect(costs.length).toBeGreaterThan(0);
    expect(costs).toEqual([...costs].sort((one, other) => other - one));
    expect(costs.at(-1)).toBe(plan.cost);
  });

  it("end as soon as one proves its plan best", async () => {
    const callOff = new CallOff();
    const answer = await found({ ...tightCase(), name: "first proves" }, { seed: 1, callOff });
    expect(answer).toMatchObject({ seed: 1, isBest: true });
    await nothingIsAskedAnyMore(callOff);
  });
});

describe("a search that nobody wants any more", () => {
  it("ends in all its threads: nobody asks any more whether to go on", async () => {
    const [leave, callOff] = [new AbortController(), new CallOff()];
    const endless = { ...tightCase(), name: "endless" };
    const answer = scripted.search(endless, { seed: 1, signal: leave.signal, callOff });
    await expect.poll(() => callOff.timesAsked).toBeGreaterThan(0);
    leave.abort();
    expect(await answer).toMatchObject({ refusal: { kind: "planning-stopped" } });
    await nothingIsAskedAnyMore(callOff);
  });

  it("ends in the middle of a long step too, and the next question is answered", async () => {
    const leave = new AbortController();
    const answer = scripted.search({ ...tightCase(), name: "deaf" }, { seed: 1, signal: leave.signal });
    // Its threads are at it: those of a later question are answered beside it only once it has ended.
    leave.abort();
    expect(await answer).toMatchObject({ refusal: { kind: "planning-stopped" } });
    expect((await found(tightCase(), { seed: 1 })).plan.cost).toBeGreaterThan(0);
  });

  it("is not even begun when nobody wanted it from the start", async () => {
    const callOff = new CallOff();
    const endless = { ...tightCase(), name: "endless" };
    const answer = await scripted.search(endless, { seed: 1, signal: AbortSignal.abort(), callOff });
    expect(answer).toMatchObject({ refusal: { kind: "planning-stopped" } });
    expect(callOff.timesAsked).toBe(0);
  });
});

describe("asking what holds the workshop up", () => {
  it("gives the better plan that turns up while asking", () => {
    const planCase = caseOfFile("week-3.json");
    const plan = findPlan(planCase, { seed: 1, stop: afterIterations(0) });
    const task = { planCase, plan, seed: 1, seconds: 60, iterationsASecond: 0 };
    const asked = askHoldUps({ ...task, callOff: new CallOff().cells });
    expect(asked.plan.cost).toBeLessThan(plan.cost);
    expect(asked.plan.bound).toBeLessThanOrEqual(asked.plan.cost);
    expect(checkPlan(planCase, asked.plan)).toEqual([]);
    expect(asked.holdUps.cost).toBeLessThanOrEqual(asked.plan.cost);
  });
});

/** Threads that went on would have asked while others answered a whole question. */
async function nothingIsAskedAnyMore(callOff: CallOff) {
  const asked = callOff.timesAsked;
  await found(tightCase(), { seed: 1 });
  expect(callOff.timesAsked).toBe(asked);
}
