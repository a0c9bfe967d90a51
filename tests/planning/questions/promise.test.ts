import { describe, expect, test } from "vitest";
import type { Order, PlanCase } from "../../../server/planning/case.ts";
import type { Plan } from "../../../server/planning/plan.ts";
import { planCase } from "../../../server/planning/planCase.ts";
import { type Promised, type PromiseOptions, promise } from "../../../server/planning/questions/promise.ts";
import type { SafeDate } from "../../../server/planning/questions/standing.ts";
import { afterIterations } from "../../../server/planning/stop.ts";
import { caseFromJson } from "../caseFiles.ts";
import { type CaseSize, generateCase, smallCase } from "../generateCase.ts";
import { type JsonCase, type JsonPlan, judge } from "../independentChecker.ts";
import { nineBalls, oneBowl, withBall, withSession } from "../oneBowl.ts";

const busy: CaseSize = { days: 9, orders: 12, blends: 6, units: 40 };
/** Small orders and many days, so that there is room for one more. */
const roomy: CaseSize = { days: 12, orders: 8, blends: 3, units: 6 };

/** A state of a workshop: the orders it has accepted with the plan they stand by, and one that is new. */
interface State {
  readonly json: JsonCase;
  readonly accepted: PlanCase;
  readonly plan: Plan;
  readonly newOrder: Order;
  readonly wished: string;
}

const states: readonly State[] = Array.from({ length: 1_500 }, (_, seed) => seed)
  .flatMap((seed): readonly State[] => {
    const json = generateCase(seed, [roomy, roomy, smallCase, busy][seed % 4]);
    const parsed = caseFromJson(json);
    const newOrder = parsed.orders.at(-1);
    if (newOrder === undefined || !canWork(json)) return [];
    const accepted = { ...parsed, orders: parsed.orders.slice(0, -1) };
    const plan = planCase(accepted, { seed, stop: afterIterations(300), prove: false });
    return [{ json, accepted, plan, newOrder, wished: accepted.sessions[seed % 4]?.date ?? "" }];
  })
  .slice(0, 200);

/** A workshop that has some of everything. */
function canWork({ mixers, trays, shapes }: JsonCase): boolean {
  return mixers > 0 && trays > 2 && shapes.every(({ moldSets }) => moldSets > 1);
}

function ask(
  { accepted, newOrder, plan }: Pick<State, "accepted" | "newOrder" | "plan">,
  options: Partial<PromiseOptions> = {},
): Promised {
  return promise(accepted, newOrder, { seed: 1, plan, wished: null, stop: afterIterations(600), ...options });
}

describe("a promise in 200 generated workshops", () => {
  const answers = states.map((state) => {
    const safe: SafeDate[] = [];
    const options = { wished: state.wished, onAnswer: (answer: SafeDate) => safe.push(answer) };
    return { state, safe, answer: ask(state, options) };
  });

  test("is made in many, refused in many, and often improved on the way", () => {
    expect(answers.length).toBe(200);
    expect(answers.filter(({ answer }) => answer.earliest !== null).length).toBeGreaterThan(60);
    expect(answers.filter(({ answer }) => answer.earliest === null).length).toBeGreaterThan(20);
    expect(answers.filter(({ safe }) => safe.length > 1).length).toBeGreaterThan(10);
    expect(answers.filter(({ answer }) => (answer.instead?.piecesByWished ?? 0) > 0).length).toBeGreaterThan(
      5,
    );
    expect(states.filter(({ plan }) => plan.cost > 0).length).toBeGreaterThan(50);
  });

  test("comes with an allowed plan that has the new order on time and nobody waiting longer", () => {
    for (const { state, answer, safe } of answers) {
      for (const { date, plan } of safe) expectSafe(state, date, plan);
      if (answer.earliest === null) expect(answer.plan).toBeNull();
      else expectSafe(state, answer.earliest, answer.plan);
    }
  });

  test("tells better and better dates, and answers with the last of them", () => {
    for (const { answer, safe } of answers) {
      const dates = safe.map(({ date }) => date);
      expect(dates).toEqual([...new Set(dates)].sort().reverse());
      expect(answer.earliest).toBe(dates.at(-1) ?? null);
    }
  });

  test("offers something else exactly where the wished date can't be kept, and nothing before it is possible", () => {
    for (const { state, answer } of answers) {
      const isKept = answer.earliest !== null && answer.earliest <= state.wished;
      expect(answer.instead === null).toBe(isKept);
      if (answer.instead === null) continue;
      const ordered = state.newOrder.lines.reduce((sum, { units }) => sum + units, 0);
      expect(answer.instead.piecesByWished).toBeLessThan(ordered);
      // All pieces are there when the rest is, so that day could have been promised for all.
      const { restBy } = answer.instead;
      if (restBy !== null) expect(answer.earliest !== null && answer.earliest <= restBy).toBe(true);
    }
  });

  test("ends at once when told to, with what moves nothing", () => {
    for (const { state, answer } of answers) {
      const atOnce = ask(state, { stop: { progress: () => 1 } });
      if (atOnce.earliest === null) continue;
      expectSafe(state, atOnce.earliest, atOnce.plan);
      expect(answer.earliest !== null && answer.earliest <= atOnce.earliest).toBe(true);
    }
  });
});

function expectSafe({ json, newOrder, plan: before }: State, date: string, plan: Plan | null): void {
  const orders = json.orders.map((order) => (order.id === newOrder.id ? { ...order, shipBy: date } : order));
  expect(judge({ ...json, orders }, plan as unknown as JsonPlan).complaints, json.name).toEqual([]);
  const own = plan?.orders.find(({ id }) => id === newOrder.id);
  expect(own, json.name).toMatchObject({ daysLate: 0, unitsShort: 0 });
  for (const { id, daysLate, unitsShort } of before.orders) {
    const after = plan?.orders.find((outcome) => outcome.id === id);
    expect(after?.daysLate, `${json.name} ${id}`).toBeLessThanOrEqual(daysLate);
    expect(after?.unitsShort, `${json.name} ${id}`).toBeLessThanOrEqual(unitsShort);
  }
}

describe("by hand: nine balls of cedar fill the molds from Monday to Tuesday", () => {
  const solve = (accepted: PlanCase) => planCase(accepted, { seed: 1, stop: afterIterations(1_500) });
  const state = (json: JsonCase, units: number): Pick<State, "accepted" | "newOrder" | "plan"> => {
    const accepted = caseFromJson(json);
    const lines = [{ product: "oat/ball", units }];
    const newOrder: Order = { id: "N-1", terms: "complete", shipBy: "2027-03-04", weight: 1, lines };
    return { accepted, newOrder, plan: solve(accepted) };
  };

  test("a new order for as many follows on Tuesday, ready on Thursday; one more does not fit any more", () => {
    // W-1 is due on Wednesday and can't wait. The molds hold nine.
    expect(ask(state(oneBowl, 9))).toMatchObject({ earliest: "2027-03-04", proven: false, instead: null });
    expect(ask(state(oneBowl, 10)).earliest).toBeNull();
  });

  test("alone it has Monday's molds, ready on Wednesday, and that is proven", () => {
    const free = { ...oneBowl, orders: [] };
    const wished = "2027-03-03";
    expect(ask(state(free, 9), { wished })).toMatchObject({
      earliest: "2027-03-03",
      proven: true,
      instead: null,
    });
    // Ten take two mornings even alone.
    expect(ask(state(free, 10), { wished })).toMatchObject({ earliest: "2027-03-04", proven: true });
    // Nineteen take three, and the third is too late: no plan can do it.
    expect(ask(state(free, 19), { wished })).toMatchObject({ earliest: null, proven: true });
  });

  test("an order that is late already may not get later, but one without a date to lose gives way", () => {
    const late = { ...oneBowl, orders: [{ ...nineBalls, shipBy: "2027-03-02" }] };
    expect(ask(state(late, 9)).earliest).toBe("2027-03-04");
    // Due on Thursday, the balls of cedar can be pressed on Tuesday as well.
    const patient = { ...oneBowl, orders: [{ ...nineBalls, shipBy: "2027-03-04" }] };
    expect(ask(state(patient, 9)).earliest).toBe("2027-03-03");
  });

  test("stock is there on the first day", () => {
    const stocked = { ...oneBowl, stock: [{ product: "oat/ball", units: 9 }] };
    expect(ask(state(stocked, 9))).toMatchObject({ earliest: "2027-03-01", proven: true });
    expect(ask(state(stocked, 10)).earliest).toBe("2027-03-04");
  });

  test("a wish that can't be kept tells the pieces by then, the date for the rest and what is in the way", () => {
    const wished = "2027-03-03";
    const molds = { resource: "moldSets", shape: "ball" };
    expect(ask(state(oneBowl, 9), { wished }).instead).toEqual({
      wished,
      piecesByWished: 0,
      restBy: "2027-03-04",
      inTheWay: molds,
    });
    // One set more holds two more.
    expect(ask(state(withBall({ moldSets: 6 }), 9), { wished }).instead).toEqual({
      wished,
      piecesByWished: 2,
      restBy: "2027-03-04",
      inTheWay: molds,
    });
    // Nine sets hold seventeen, eight of them new; ten sets hold all eighteen.
    expect(ask(state(withBall({ moldSets: 9 }), 9), { wished }).instead).toMatchObject({ piecesByWished: 8 });
    expect(ask(state(withBall({ moldSets: 10 }), 9), { wished })).toMatchObject({
      earliest: wished,
      instead: null,
    });
  });

  test("trays in the way: six of four balls each, three of them taken by the cedar", () => {
    const wished = "2027-03-03";
    const tight = { ...withBall({ moldSets: 20 }), trays: 5 };
    expect(ask(state(tight, 9), { wished }).instead).toMatchObject({
      piecesByWished: 8,
      inTheWay: { resource: "trays" },
    });
    expect(ask(state({ ...tight, trays: 6 }, 9), { wished }).instead).toBeNull();
  });

  test("mixers in the way: Monday has time for one bowl", () => {
    const wished = "2027-03-03";
    const tight = { ...withBall({ moldSets: 20 }), bowlMinutes: 200 };
    expect(ask(state(tight, 9), { wished }).instead).toMatchObject({
      piecesByWished: 0,
      restBy: "2027-03-04",
      inTheWay: { resource: "mixers" },
    });
    expect(ask(state({ ...tight, bowlMinutes: 120 }, 9), { wished }).instead).toBeNull();
  });

  test("hands in the way: the cedar's bowl, clean-down and nine balls take 35.4 minutes of Monday morning", () => {
    const wished = "2027-03-03";
    const { shapes } = withBall({ moldSets: 20 });
    const monday = (handMinutes: number) => ({ ...withSession(0, { handMinutes }), shapes });
    // 30 for bowl and clean-down, 0.6 a ball: eight balls more need 34.8, nine 35.4.
    expect(ask(state(monday(70.2), 9), { wished }).instead).toMatchObject({
      piecesByWished: 8,
      inTheWay: { resource: "handMinutes" },
    });
    expect(ask(state(monday(70.8), 9), { wished }).instead).toBeNull();
  });

  test("a wish before anything could dry has nobody else in its way", () => {
    const answer = ask(state({ ...oneBowl, orders: [] }, 9), { wished: "2027-03-02" });
    expect(answer).toMatchObject({ earliest: "2027-03-03", proven: true });
    expect(answer.instead).toMatchObject({ piecesByWished: 0, restBy: "2027-03-03", inTheWay: null });
  });
});
