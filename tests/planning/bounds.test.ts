import { describe, expect, test } from "vitest";
import { costGranule } from "../../server/planning/bounds/costGranule.ts";
import { LowerBound } from "../../server/planning/bounds/lowerBound.ts";
import { planCase } from "../../server/planning/planCase.ts";
import { Instance } from "../../server/planning/search/instance.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { caseFromJson, jsonOfFile } from "./caseFiles.ts";
import { tinyCase } from "./exhaustiveCases.ts";
import { exhaustiveSearch } from "./exhaustiveSearch.ts";
import { generateCase } from "./generateCase.ts";
import { type JsonCase, type JsonPlan, judge } from "./independentChecker.ts";
import { nineBalls, oneBowl, withBall, withSession } from "./oneBowl.ts";

const boundOf = (json: JsonCase) => new LowerBound(new Instance(caseFromJson(json)));

/** The bounds of several rounds of work towards a cost, the one before any work first. */
function bounds(json: JsonCase, target: number, rounds: readonly number[]): readonly number[] {
  const bound = boundOf(json);
  return [
    bound.value,
    ...rounds.map((iterations) => {
      bound.improve(iterations, target);
      return bound.value;
    }),
  ];
}

describe("the bound on lateness", () => {
  test("is never above the best there is, and never falls, in 300 tiny cases", () => {
    for (let seed = 0; seed < 300; seed++) {
      const json = tinyCase(seed);
      const best = exhaustiveSearch(json).cost;
      // Aimed too high on purpose: even then no bound may pass the best cost.
      const found = bounds(json, 2 * best + 10, [50, 300, 250]);
      expect(Math.max(...found), json.name).toBeLessThanOrEqual(best + 1e-6);
      expect(found, json.name).toEqual([...found].sort((one, other) => one - other));
    }
  });

  test("is never above what an allowed plan costs, with markets, stock, drying pieces and damp days", () => {
    for (let seed = 0; seed < 150; seed++) {
      const json = generateCase(seed);
      const plan = planCase(caseFromJson(json), { seed, stop: afterIterations(400), prove: false });
      const { complaints, cost } = judge(json, plan as unknown as JsonPlan);
      expect(complaints, json.name).toEqual([]);
      const found = bounds(json, 2 * cost + 10, [400, 200]);
      expect(Math.max(...found), json.name).toBeLessThanOrEqual(cost + 1e-6);
    }
  });
});

/** Cedar and oat, each wanted on Wednesday: what is mixed on Monday is ready then, on Tuesday a day too late. */
const cedarAndOat = (oats: number): JsonCase["orders"] => [
  nineBalls,
  { ...nineBalls, id: "W-2", lines: [{ product: "oat/ball", units: oats }] },
];

const monday = (handMinutes: number, json: JsonCase = oneBowl): JsonCase => ({
  ...json,
  sessions: withSession(0, { handMinutes }).sessions,
});

describe("what the bound knows about a session, worked out by hand", () => {
  /** The bound, where there is a plan of that cost: it can't be higher. */
  const proven = (json: JsonCase, best: number) => {
    const { cost } = planCase(caseFromJson(json), { seed: 1, stop: afterIterations(2000), prove: false });
    expect(cost).toBe(best);
    return bounds(json, best, [300, 1500]).at(-1);
  };

  test("blends share its minutes, each with a clean-down of its own", () => {
    // A run: 20 + 10, and 0.6 a ball for pressing and turning: 35.4 for nine balls of cedar, 34.8 for eight of oat.
    const wide = { ...withBall({ moldSets: 9, unitsPerTray: 9 }), orders: cedarAndOat(8) };
    expect(proven(monday(70.2, wide), 0)).toBe(0);
    // Two minutes beside both clean-downs and bowls press three balls.
    expect(proven(monday(62, wide), 8)).toBe(8);
  });

  test("a least bowl takes its minutes even where few pieces are wanted", () => {
    // Fifteen balls of 100 g to a bowl of 1500 g: 30 + 9 a run.
    const wide = {
      ...withBall({ moldSets: 16, unitsPerTray: 15 }),
      minBowlGrams: 1500,
      orders: cedarAndOat(9),
    };
    expect(proven(monday(78, wide), 0)).toBe(0);
    expect(proven(monday(72, wide), 9)).toBe(9);
    expect(proven(monday(72, { ...wide, minBowlGrams: 0 }), 0)).toBe(0);
  });

  test("a second bowl is a whole one", () => {
    // Nine balls are two bowls of at most 500 g: 40 + 10 + 5.4. In 55 minutes one bowl of five is mixed.
    const order = { ...nineBalls, terms: "as-ready" };
    const small = { ...oneBowl, bowlGrams: 500, orders: [order] };
    expect(proven(monday(55.4, small), 0)).toBe(0);
    expect(proven(monday(53, small), 4)).toBe(4);
  });

  test("an order that stock fills but for one piece needs a run all the same", () => {
    const stock = ["cedar/ball", "oat/ball"].map((product) => ({ product, units: 8 }));
    const nearly = { ...oneBowl, stock, orders: cedarAndOat(9) };
    // 30 + 0.6 each.
    expect(proven(monday(61.2, nearly), 0)).toBe(0);
    expect(proven(monday(58, nearly), 9)).toBe(9);
  });
});

describe("the steps in which lateness can cost anything", () => {
  const ordersOf = (...orders: readonly Partial<JsonCase["orders"][number]>[]): JsonCase => ({
    ...oneBowl,
    orders: orders.map((order, at) => ({ ...nineBalls, ...order, id: `W-${at}` })),
  });
  const balls = (units: number) => ({ lines: [{ product: "cedar/ball", units }] });
  const granuleOf = (json: JsonCase) => costGranule(new Instance(caseFromJson(json)));

  test("are all units of a whole order, each unit of one sent as it gets ready, seven days of each for a market", () => {
    expect(granuleOf(ordersOf(balls(9)))).toBe(9);
    expect(granuleOf(ordersOf({ ...balls(9), weight: 2.5 }))).toBe(22.5);
    expect(granuleOf(ordersOf({ ...balls(9), terms: "as-ready" }))).toBe(1);
    expect(granuleOf(ordersOf({ ...balls(9), terms: "market" }))).toBe(7);
  });

  test("are what all orders have in common, and unknown where a weight has too many decimals", () => {
    expect(granuleOf(ordersOf(balls(9), balls(6)))).toBe(3);
    expect(granuleOf(ordersOf(balls(14), { ...balls(9), terms: "market", weight: 2 }))).toBe(14);
    expect(granuleOf(ordersOf(balls(14), { ...balls(9), terms: "as-ready", weight: 0.5 }))).toBe(0.5);
    expect(granuleOf(ordersOf(balls(9), { ...balls(6), weight: 1.2345 }))).toBe(0);
    expect(granuleOf(ordersOf({ ...balls(9), weight: 0 }))).toBe(0);
  });

  const aimedAnyhow = (json: JsonCase) =>
    [1, 7, 20, 1000].map((target) => bounds(json, target, [300, 1500]).at(-1));

  test("make a bound between two of them worth the next, whatever it is aimed at", () => {
    // Fifteen balls in molds for nine: some are a day late whatever is done, and with them the whole order.
    const fifteen = ordersOf(balls(15));
    expect(aimedAnyhow(fifteen)).toEqual([15, 15, 15, 15]);
    // With molds for all of them nothing is late, and no aim may say so.
    const roomy = { ...fifteen, ...withBall({ moldSets: 8 }), orders: fifteen.orders };
    expect(aimedAnyhow(roomy)).toEqual([0, 0, 0, 0]);
  });
});

test("a search that is called off at once has not worked a whole round on its bound", () => {
  const week = caseFromJson(jsonOfFile("week-1.json"));
  const calledOffAfter = (moves: number) =>
    planCase(week, { seed: 1, stop: { progress: (done) => (done < moves ? 0 : 1) } }).bound;
  // Only the first round is due, and that is over in 25 moves.
  expect(calledOffAfter(1)).toBeLessThan(calledOffAfter(25));
  expect(calledOffAfter(50)).toBe(calledOffAfter(25));
});
