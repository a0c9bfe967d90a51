import { describe, expect, test } from "vitest";
import type { Plan } from "../../../server/planning/plan.ts";
import { planCase } from "../../../server/planning/planCase.ts";
import { type Promised, promise } from "../../../server/planning/questions/promise.ts";
import { afterIterations } from "../../../server/planning/stop.ts";
import { caseFromJson } from "../caseFiles.ts";
import { tinyCase } from "../exhaustiveCases.ts";
import { exhaustiveSearch } from "../exhaustiveSearch.ts";
import type { JsonCase, JsonOrder } from "../independentChecker.ts";

/** A tiny workshop with its last order as the new one, the plan the others stand by, and what could be promised. */
interface Asked {
  readonly name: string;
  readonly accepted: JsonCase;
  readonly newOrder: JsonOrder;
  readonly plan: Plan;
  readonly dates: readonly string[];
  readonly wished: string;
  readonly answer: Promised;
}

const asked: readonly Asked[] = Array.from({ length: 300 }, (_, seed) => seed).flatMap((seed) => {
  const json = tinyCase(seed);
  const newOrder = json.orders.at(-1);
  if (newOrder === undefined || json.orders.length < 2) return [];
  const accepted = { ...json, orders: json.orders.slice(0, -1) };
  const dates = [...new Set(json.sessions.map(({ date }) => date))];
  const wished = dates[seed % dates.length] ?? "";
  const planned = caseFromJson(accepted);
  const plan = planCase(planned, { seed, stop: afterIterations(1_000) });
  const stop = afterIterations(2_000);
  const order = caseFromJson(json).orders.at(-1);
  if (order === undefined) throw new Error("the new order was lost");
  const answer = promise(planned, order, { seed, stop, plan, wished });
  return [{ name: json.name, accepted, newOrder, plan, dates, wished, answer }];
});

describe("a promise against trying everything", () => {
  test("is asked in enough tiny workshops, and answered in every way", () => {
    expect(asked.length).toBeGreaterThan(150);
    const count = (holds: (each: Asked) => boolean) => asked.filter(holds).length;
    expect(count(({ answer }) => answer.earliest !== null)).toBeGreaterThan(50);
    expect(count(({ answer }) => answer.earliest === null)).toBeGreaterThan(50);
    expect(count(({ answer }) => answer.earliest !== null && !answer.proven)).toBeGreaterThan(10);
    expect(count(({ answer }) => (answer.instead?.piecesByWished ?? 0) > 0)).toBeGreaterThan(10);
    expect(count(({ plan }) => plan.orders.some(({ daysLate }) => daysLate > 0))).toBeGreaterThan(50);
  });

  test("no date before the answer can be kept, in any of them", () => {
    const missed = asked.filter(({ accepted, newOrder, plan, dates, answer }) => {
      const before = answer.earliest === null ? dates.at(-1) : dates[dates.indexOf(answer.earliest) - 1];
      if (before === undefined) return false;
      const order = { ...newOrder, terms: "complete", weight: 1, shipBy: before };
      return isHarmless(accepted, plan, order, 0);
    });
    expect(missed.map(({ name }) => name)).toEqual([]);
  });

  test("no piece more can be there by the wished date, in any of them", () => {
    const wishes = asked.filter(({ answer }) => answer.instead !== null);
    const missed = wishes.filter(({ accepted, newOrder, plan, wished, answer }) => {
      const ordered = newOrder.lines.reduce((sum, { units }) => sum + units, 0);
      const missing = ordered - (answer.instead?.piecesByWished ?? 0);
      const order = { ...newOrder, terms: "market", weight: 1, shipBy: wished };
      return isHarmless(accepted, plan, order, 7 * (missing - 1));
    });
    expect(wishes.length).toBeGreaterThan(100);
    expect(missed.map(({ name }) => name)).toEqual([]);
  });
});

/**
 * True where a plan has the accepted orders no worse off than the one given and the new order for at most this cost.
 * An order that is short already may stay so: its missing pieces cost seven days each, whichever they are.
 */
function isHarmless(accepted: JsonCase, plan: Plan, newOrder: JsonOrder, most: number): boolean {
  let allowed = most;
  const last = accepted.sessions.at(-1)?.date ?? "";
  const kept = accepted.orders.flatMap((order, at) => {
    const { unitsShort = 0, daysLate = 0 } = plan.orders[at] ?? {};
    // So heavy that no piece of the new order can buy a day or a piece of theirs.
    const weight = 1_000;
    if (unitsShort === 0) return [{ ...order, weight, shipBy: daysAfter(order.shipBy, daysLate) }];
    if (unitsShort === order.lines.reduce((sum, { units }) => sum + units, 0)) return [];
    allowed += weight * 7 * unitsShort;
    return [{ ...order, weight, terms: "market", shipBy: order.terms === "market" ? order.shipBy : last }];
  });
  return exhaustiveSearch({ ...accepted, orders: [...kept, newOrder] }).cost <= allowed + 1e-6;
}

function daysAfter(date: string, days: number): string {
  return new Date(Date.parse(date) + days * 86_400_000).toISOString().slice(0, 10);
}
