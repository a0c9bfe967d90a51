import { describe, expect, test } from "vitest";
import type { Order } from "../../../server/planning/case.ts";
import { aloneDate } from "../../../server/planning/questions/aloneDate.ts";
import { caseFromJson, caseOfFile } from "../caseFiles.ts";
import { tinyCase } from "../exhaustiveCases.ts";
import { exhaustiveSearch } from "../exhaustiveSearch.ts";
import { nineBalls, oneBowl } from "../oneBowl.ts";

describe("the date an order would have alone in the workshop", () => {
  const planCase = caseFromJson({
    ...oneBowl,
    orders: [nineBalls, { ...nineBalls, id: "W-2", lines: [{ product: "oat/ball", units: 9 }] }],
  });
  const ofBalls = (units: number) => {
    const [order] = planCase.orders;
    if (order === undefined) throw new Error("no order");
    return aloneDate(planCase, { ...order, lines: [{ product: "cedar/ball", units }] });
  };

  test("by hand: nine balls fit Monday's molds, ten and eighteen take Tuesday's too, nineteen never fit", () => {
    expect(ofBalls(9)).toEqual({ readyOn: "2027-03-03", notBefore: "2027-03-03", proven: true });
    expect(ofBalls(10)).toEqual({ readyOn: "2027-03-04", notBefore: "2027-03-04", proven: true });
    expect(ofBalls(18).readyOn).toBe("2027-03-04");
    const never = ofBalls(19);
    expect(never).toMatchObject({ readyOn: null, proven: true });
    expect(never.notBefore > "2027-03-04").toBe(true);
  });

  test("is proven where what can be proven lies between the lateness of that day and of the day before", () => {
    const week = caseOfFile("week-4.json");
    const large = week.orders.filter(({ id }) => ["W-102", "W-105"].includes(id));
    expect(large.map((order) => aloneDate(week, order))).toEqual([
      { readyOn: "2027-03-04", notBefore: "2027-03-04", proven: true },
      { readyOn: "2027-03-04", notBefore: "2027-03-04", proven: true },
    ]);
  });

  test("is what trying everything finds, in 300 tiny cases, and never before what is said to be possible", () => {
    let proven = 0;
    for (let seed = 0; seed < 300; seed++) {
      const json = tinyCase(seed);
      const [order] = json.orders;
      if (order === undefined) throw new Error("no order");
      const first = json.sessions[0]?.date ?? "";
      const before = new Date(Date.parse(first) - 86_400_000).toISOString().slice(0, 10);
      const alone = { ...order, terms: "complete", weight: 1, shipBy: before };
      const best = exhaustiveSearch({ ...json, orders: [alone] }).orders[0]?.readyOn ?? null;
      const answer = aloneDate(caseFromJson(json), caseFromJson(json).orders[0] as Order);
      expect(answer.readyOn, json.name).toBe(best);
      if (best !== null) expect(answer.notBefore <= best, json.name).toBe(true);
      if (answer.proven) proven += 1;
    }
    expect(proven).toBeGreaterThan(250);
  });
});
