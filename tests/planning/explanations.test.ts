import { describe, expect, test } from "vitest";
import type { PlanCase } from "../../server/planning/case.ts";
import {
  explainLateOrders,
  explainRuns,
  type LateReason,
  summarisePlan,
} from "../../server/planning/explainPlan.ts";
import type { HeldBy } from "../../server/planning/heldBy.ts";
import type { Plan } from "../../server/planning/plan.ts";
import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { caseFromJson } from "./caseFiles.ts";
import { type CaseSize, generateCase, smallCase } from "./generateCase.ts";
import type { JsonCase } from "./independentChecker.ts";
import { nineBalls, oneBowl, withBall } from "./oneBowl.ts";
import { type Forming, type PlainCase, readPlainly } from "./plainReading.ts";

const solve = (planCase: PlanCase, iterations = 1500) =>
  findPlan(planCase, { seed: 1, stop: afterIterations(iterations) });

/** Two orders of nine balls each; 5 sets hold nine, so one is formed on Monday and one on Tuesday, ready on Thursday. */
const twoOrders: JsonCase = {
  ...oneBowl,
  orders: [nineBalls, { ...nineBalls, id: "W-2", lines: [{ product: "oat/ball", units: 9 }] }],
};

describe("why", () => {
  test("a late order names what it waits for, what is used up, by whom, and its date alone", () => {
    const planCase = caseFromJson(twoOrders);
    const plan = solve(planCase);
    const [reason, ...others] = explainLateOrders(planCase, plan);
    const late = reason?.outcome.id;
    expect(others).toEqual([]);
    expect(reason).toMatchObject({
      waitsFor: { units: 9 },
      heldBy: {
        resource: { resource: "moldSets", shape: "ball" },
        sessions: [0, 1],
        orders: [late === "W-1" ? "W-2" : "W-1"],
        alreadyDrying: false,
      },
      alone: { readyOn: "2027-03-03", proven: true },
      unavoidableDays: 0,
    });
    expect(summarisePlan(plan)).toMatchObject({ orders: 2, onTime: 1, late: 1, short: 0, cost: 9 });
  });

  test("lateness that no plan can avoid is told apart", () => {
    const planCase = caseFromJson({ ...oneBowl, orders: [{ ...nineBalls, shipBy: "2027-03-01" }] });
    expect(explainLateOrders(planCase, solve(planCase))).toMatchObject([
      { unavoidableDays: 2, alone: { readyOn: "2027-03-03" } },
    ]);
  });

  test("a run names the orders it serves and what is left over", () => {
    const planCase = caseFromJson({ ...withBall({ moldSets: 7 }), minBowlGrams: 1250 });
    expect(explainRuns(planCase, solve(planCase))).toEqual([
      {
        run: 0,
        serves: [{ order: "W-1", product: "cedar/ball", units: 9 }],
        leftOver: [{ product: "cedar/ball", units: 4 }],
      },
    ]);
  });
});

const busy: CaseSize = { days: 10, orders: 14, blends: 6, units: 30 };

interface Explained {
  readonly json: JsonCase;
  readonly plan: Plan;
  readonly reasons: readonly LateReason[];
}

describe("why, in drawn plans, held against the plain reading of the rules", () => {
  const explained: readonly Explained[] = Array.from({ length: 240 }, (_, seed) => {
    const json = generateCase(seed, seed % 3 === 0 ? busy : smallCase);
    const planCase = caseFromJson(json);
    const plan = findPlan(planCase, { seed, stop: afterIterations(200), prove: false });
    return { json, plan, reasons: explainLateOrders(planCase, plan) };
  });
  const each = (check: (reason: LateReason, held: HeldBy, one: Explained) => void) => {
    for (const one of explained) {
      for (const reason of one.reasons) if (reason.heldBy !== null) check(reason, reason.heldBy, one);
    }
  };

  test("every kind of limit is named, with and without others who take it", () => {
    const named = new Map<string, number>();
    const add = (what: string) => named.set(what, (named.get(what) ?? 0) + 1);
    each((_, held) => {
      add(held.resource.resource);
      if (held.orders.length > 0) add("taken by orders");
      if (held.alreadyDrying) add("taken by what dries already");
    });
    for (const what of [
      "moldSets",
      "trays",
      "handMinutes",
      "mixers",
      "taken by orders",
      "taken by what dries already",
    ]) {
      expect(named.get(what) ?? 0, what).toBeGreaterThan(5);
    }
  });

  test("each late or short order has a reason, and no other", () => {
    for (const { plan, reasons } of explained) {
      const late = plan.orders.filter(({ daysLate, unitsShort }) => daysLate > 0 || unitsShort > 0);
      expect(reasons.map(({ outcome }) => outcome)).toEqual(late);
    }
  });

  test("what an order waits for is missing from it, or there on its last day", () => {
    for (const { json, plan, reasons } of explained) {
      const plain = readPlainly(json);
      for (const { outcome, waitsFor } of reasons) {
        const line = plain.question.orders
          .find(({ id }) => id === outcome.id)
          ?.lines.find(({ product }) => product === waitsFor.product);
        const supplies = plan.supplies.filter(
          (supply) => supply.order === outcome.id && supply.product === waitsFor.product,
        );
        const served = supplies.reduce((sum, { units }) => sum + units, 0);
        if (outcome.unitsShort > 0) expect(waitsFor.units).toBe((line?.units ?? 0) - served);
        else
          expect(supplies.some((supply) => supply.from !== "stock" && supply.units === waitsFor.units)).toBe(
            true,
          );
      }
    }
  });

  test("the limit named leaves no room for one piece more in any session named", () => {
    each(({ waitsFor }, held, { json, plan }) => {
      const plain = readPlainly(json);
      for (const session of held.sessions) {
        const left = roomLeft(plain, plan, held, session);
        expect(left, `${json.name} ${JSON.stringify(held)}`).toBeLessThan(
          held.resource.resource === "handMinutes" ? minutesOfOneMore(plain, waitsFor.product, session) : 1,
        );
      }
    });
  });

  test("the orders named are those whose pieces take it there, and so it is with what dries already", () => {
    each((_, held, { json, plan }) => {
      const plain = readPlainly(json);
      const takers = plan.supplies.flatMap((supply) => {
        const forming = supply.from === "run" ? formingOf(plain, supply.product, supply.session) : undefined;
        const isTaker = forming !== undefined && held.sessions.some((at) => takes(forming, held, at) > 0);
        return isTaker && supply.units > 0 ? [supply.order] : [];
      });
      expect([...held.orders].sort(), json.name).toEqual([...new Set(takers)].sort());
      const without = readPlainly({ ...json, drying: [] });
      const isTaken = held.sessions.some((at) => roomOf(plain, held, at) < roomOf(without, held, at) - 1e-9);
      if (isTaken) expect(held.alreadyDrying, json.name).toBe(true);
      // Where there is no room anyway nothing is seen to be taken.
      const isSeen = held.sessions.every((at) => roomOf(without, held, at) > 0);
      if (held.alreadyDrying && isSeen) expect(isTaken, json.name).toBe(true);
    });
  });

  test("days that nobody could avoid are those to the date alone, never more than the days late", () => {
    const day = (date: string) => Date.parse(date) / 86_400_000;
    for (const { json, reasons } of explained) {
      for (const { outcome, alone, unavoidableDays } of reasons) {
        const shipBy = json.orders.find(({ id }) => id === outcome.id)?.shipBy ?? "";
        expect(unavoidableDays).toBeLessThanOrEqual(outcome.daysLate);
        if (alone.readyOn === null) continue;
        const days = Math.max(0, day(alone.readyOn) - day(shipBy));
        expect(unavoidableDays, json.name).toBe(Math.min(days, outcome.daysLate));
      }
    }
  });
});

function formingOf(plain: PlainCase, product: string, session: number): Forming | undefined {
  const index = plain.question.products.findIndex(({ id }) => id === product);
  return plain.formings.find((forming) => forming.product === index && forming.session === session);
}

/** What one piece of a forming takes of a limit in a session; of trays and bowls it takes a share. */
function takes(forming: Forming, { resource }: HeldBy, at: number): number {
  const { session, unmold, pack, shape, minutes } = forming;
  switch (resource.resource) {
    case "mixers":
      return session === at ? 1 : 0;
    case "trays":
      return session <= at && at < pack ? 1 : 0;
    case "moldSets":
      return shape.id === resource.shape && session <= at && at < unmold ? 1 : 0;
    case "handMinutes":
      return minutes[at] ?? 0;
  }
}

/** What is there of a limit in a session for the plan to use. */
function roomOf({ room }: PlainCase, { resource }: HeldBy, at: number): number {
  switch (resource.resource) {
    case "mixers":
      return room.bowls[at] ?? 0;
    case "trays":
      return room.trays[at] ?? 0;
    case "moldSets":
      return room.molds.get(resource.shape)?.[at] ?? 0;
    case "handMinutes":
      return room.hands[at] ?? 0;
  }
}

function roomLeft(plain: PlainCase, plan: Plan, held: HeldBy, at: number): number {
  const { mixMinutes, cleanMinutes } = plain.question;
  const used = plan.runs.map((run) => {
    const pieces = run.pieces.reduce((sum, { product, units }) => {
      const forming = formingOf(plain, product, run.session);
      if (forming === undefined) return sum;
      const lots = held.resource.resource === "trays" ? Math.ceil(units / forming.shape.unitsPerTray) : units;
      return sum + lots * takes(forming, held, at);
    }, 0);
    if (held.resource.resource === "mixers") return run.session === at ? run.bowls : 0;
    const isMixed = held.resource.resource === "handMinutes" && run.session === at;
    return pieces + (isMixed ? run.bowls * mixMinutes + cleanMinutes : 0);
  });
  return roomOf(plain, held, at) - used.reduce((sum, each) => sum + each, 0);
}

/** Most hand minutes one piece more could need in a session, a bowl of its own included. */
function minutesOfOneMore(plain: PlainCase, product: string, at: number): number {
  const { mixMinutes, cleanMinutes } = plain.question;
  const ofPiece = plain.formings.flatMap((forming) =>
    plain.question.products[forming.product]?.id === product ? [forming.minutes[at] ?? 0] : [],
  );
  return Math.max(...ofPiece) + mixMinutes + cleanMinutes;
}
