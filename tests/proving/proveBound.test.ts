import { describe, expect, test } from "vitest";
import { planCase } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { mostCoefficients } from "../../server/proving/mixedIntegerModel.ts";
import { proveBound } from "../../server/proving/proveBound.ts";
import { caseFromJson, jsonOfFile } from "../planning/caseFiles.ts";
import { tinyCase } from "../planning/exhaustiveCases.ts";
import { exhaustiveSearch } from "../planning/exhaustiveSearch.ts";
import { generateCase } from "../planning/generateCase.ts";
import { type JsonCase, type JsonPlan, judge } from "../planning/independentChecker.ts";
import { nineBalls, oneBowl, withBall, withSession } from "../planning/oneBowl.ts";
import { solveMip } from "../planning/outside/solveMip.ts";

/** Bounds in the order they were told, and the last word; all that can be proven, or what `questions` askings allow. */
async function proven(json: JsonCase, questions = Number.POSITIVE_INFINITY) {
  const told: number[] = [];
  let asked = 0;
  const answer = await proveBound(caseFromJson(json), {
    isOver: () => {
      asked += 1;
      return asked > questions;
    },
    onBetter: (bound) => told.push(bound),
  });
  if (!answer.ok) throw new Error(`${json.name} is too large`);
  return { bound: answer.value, told };
}

const boundOf = async (json: JsonCase) => (await proven(json)).bound;

describe("the proof", () => {
  test("reaches the least cost of trying everything, and never passes it, in 300 tiny cases", async () => {
    for (let seed = 0; seed < 300; seed++) {
      const json = tinyCase(seed);
      const { bound, told } = await proven(json);
      expect(bound, json.name).toBeCloseTo(exhaustiveSearch(json).cost, 6);
      expect(told, json.name).toEqual([...told].sort((one, other) => one - other));
      expect(told.at(-1) ?? 0, json.name).toBe(bound);
    }
  });

  test("is never above what an allowed plan costs, however early it is ended", async () => {
    for (let seed = 0; seed < 120; seed++) {
      const json = generateCase(seed, { days: 7, orders: 9, blends: 5, units: 30 });
      const plan = planCase(caseFromJson(json), { seed, stop: afterIterations(1_000), prove: false });
      const { complaints, cost } = judge(json, plan as unknown as JsonPlan);
      expect(complaints, json.name).toEqual([]);
      const { bound } = await proven(json, [5, 60, 600, 3_000][seed % 4]);
      expect(bound, json.name).toBeLessThanOrEqual(cost + 1e-6);
    }
  });

  test("agrees with another program of the same problem where that is solved", async () => {
    let agreed = 0;
    for (let seed = 200; seed < 220; seed++) {
      const json = generateCase(seed);
      const { plan, costProven } = await solveMip(json, 4);
      if (plan === null || !costProven) continue;
      expect(await boundOf(json), json.name).toBeCloseTo(plan.cost, 6);
      agreed += 1;
    }
    expect(agreed).toBeGreaterThanOrEqual(16);
  });

  test("knows of a week what its orders can't share", async () => {
    // Each order by itself could be on time; the best plan known costs 347.
    const { bound } = await proven(jsonOfFile("week-1.json"), 1_000);
    expect(bound).toBeGreaterThanOrEqual(266);
    expect(bound).toBeLessThanOrEqual(347);
  });
});

describe("cases at the edge", () => {
  test("without orders nothing can be late", async () => {
    expect(await boundOf({ ...oneBowl, orders: [] })).toBe(0);
  });

  test("where nothing can be made the order is never served: 9 units x 8 days", async () => {
    const idle = oneBowl.sessions.map((session) => ({ ...session, handMinutes: 0 }));
    const cases: readonly JsonCase[] = [
      withBall({ moldSets: 0 }),
      withBall({ moldHours: 200 }),
      { ...oneBowl, trays: 0 },
      { ...oneBowl, mixers: 0 },
      { ...oneBowl, sessions: idle },
      { ...oneBowl, sessions: oneBowl.sessions.map((session) => ({ ...session, mixing: false })) },
    ];
    for (const json of cases) expect(await boundOf(json)).toBe(72);
  });

  test("in a single session nothing is ever packed: 9 units x 7 days to a week after it", async () => {
    const json = { ...oneBowl, sessions: oneBowl.sessions.slice(0, 1) };
    expect(await boundOf({ ...json, orders: [{ ...nineBalls, shipBy: "2027-03-01" }] })).toBe(63);
  });

  test("what dries already beyond a limit leaves no room, and serves all the same", async () => {
    const drying = [
      {
        product: "oat/ball",
        units: 500,
        trays: 40,
        unmoldAt: "2027-03-03T09:00",
        packAt: "2027-03-04T09:00",
      },
    ];
    // Until Wednesday no mold is free, and what is formed then is packed after the last session.
    expect(await boundOf({ ...oneBowl, drying })).toBe(72);
    const oats = { ...nineBalls, id: "W-2", lines: [{ product: "oat/ball", units: 9 }] };
    // The oats are there on Thursday, a day late.
    expect(await boundOf({ ...oneBowl, drying, orders: [nineBalls, oats] })).toBe(81);
  });

  test("pieces without weight, bowls without a least, work without minutes", async () => {
    const weightless = { ...withBall({ grams: 0 }), mixMinutes: 0, cleanMinutes: 0, bowlMinutes: 0 };
    expect(await boundOf(weightless)).toBe(0);
    expect(await boundOf({ ...weightless, minBowlGrams: 100 })).toBe(72);
    const effortless = withBall({ formMinutes: 0, turnMinutes: 0, unmoldMinutes: 0, packMinutes: 0 });
    expect(await boundOf(effortless)).toBe(0);
  });

  test("a least bowl, worked out by hand", async () => {
    // Two blends wanted on Wednesday, so both mixed on Monday: 20 + 10, and 0.6 a ball for pressing and turning. A least
    // bowl of 1500 g is 15 balls: 39 minutes a run.
    const wide = { ...withBall({ moldSets: 16, unitsPerTray: 15 }), minBowlGrams: 1500 };
    const oats = { ...nineBalls, id: "W-2", lines: [{ product: "oat/ball", units: 9 }] };
    const monday = (handMinutes: number) => ({
      ...wide,
      sessions: withSession(0, { handMinutes }).sessions,
      orders: [nineBalls, oats],
    });
    expect(await boundOf(monday(78))).toBe(0);
    // One of them is a day late.
    expect(await boundOf(monday(77.9))).toBe(9);
  });
});

test("a case too large for the solver is refused, with the limit, and no time is lost on it", async () => {
  const sessions = Array.from({ length: 2_500 }, (_, at) => ({
    date: new Date(Date.UTC(2027, 0, 1 + at)).toISOString().slice(0, 10),
    start: "09:00",
    end: "13:00",
    handMinutes: 240,
  }));
  const orders = Array.from({ length: 60 }, (_, at) => ({ ...nineBalls, id: `W-${at}` }));
  const asked: number[] = [];
  const isOver = (bound: number) => asked.push(bound) > 0;
  const answer = await proveBound(caseFromJson({ ...oneBowl, sessions, orders }), { isOver });
  expect(answer).toEqual({ ok: false, refusal: { kind: "too-large", mostCoefficients } });
  expect(asked).toEqual([]);
});
