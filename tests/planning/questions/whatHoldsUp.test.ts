import { describe, expect, test } from "vitest";
import { type ResourceReport, whatHoldsUp } from "../../../server/planning/questions/whatHoldsUp.ts";
import { afterIterations } from "../../../server/planning/stop.ts";
import { caseFromJson, caseOfFile } from "../caseFiles.ts";
import { tinyCase } from "../exhaustiveCases.ts";
import { exhaustiveSearch } from "../exhaustiveSearch.ts";
import type { JsonCase } from "../independentChecker.ts";
import { nineBalls, oneBowl } from "../oneBowl.ts";

const effort = () => afterIterations(400);
/** So that a tiny case is solved for certain. */
const plenty = () => afterIterations(2_000);

/** Two orders of nine balls each; 5 sets hold nine, so one is formed on Monday and one on Tuesday, ready on Thursday. */
const twoOrders: JsonCase = {
  ...oneBowl,
  orders: [nineBalls, { ...nineBalls, id: "W-2", lines: [{ product: "oat/ball", units: 9 }] }],
};

describe("what holds the workshop up", () => {
  test("the molds, and how many would be enough", () => {
    const holdUps = whatHoldsUp(caseFromJson(twoOrders), { seed: 1, effort });
    // One order a day late: 9 unit-days. 10 sets hold 19 pieces, both orders on Monday; 9 sets hold 17.
    expect(holdUps.cost).toBe(9);
    const molds = holdUps.resources.find((report) => report.resource === "moldSets");
    expect(molds).toMatchObject({ limit: 5, peakLoad: 1, enough: { limit: 10, cost: 0 } });
    expect(molds?.oneMore).toEqual({ limit: 6, cost: 9 });
    for (const report of holdUps.resources) {
      if (report.resource !== "moldSets") expect(report.enough).toBeNull();
    }
    expect(holdUps.bottleneck).toEqual({ resource: "moldSets", shape: "ball" });
  });

  test("loads are shares of the limit over the sessions that have one", () => {
    const { resources } = whatHoldsUp(caseFromJson(oneBowl), { seed: 1, effort });
    const report = (kind: string) => resources.find((each) => each.resource === kind);
    // Nine of nine places on Monday morning and afternoon, none in three more sessions.
    expect(report("moldSets")).toMatchObject({ meanLoad: 2 / 5, peakLoad: 1 });
    // Three of eight trays until Wednesday, that is in three sessions of five.
    expect(report("trays")?.meanLoad).toBeCloseTo((3 * 3) / 8 / 5, 9);
    // One bowl of eight that fit four hours, and six that fit three.
    expect(report("mixers")).toMatchObject({ meanLoad: 1 / 8 / 5, peakLoad: 1 / 8 });
    expect(report("handMinutes")?.peakLoad).toBeCloseTo(35.4 / 240, 9);
  });

  test("more of a resource is never worse", () => {
    const holdUps = whatHoldsUp(caseOfFile("mold-bound-0.json"), { seed: 1, effort });
    for (const { oneMore, enough } of holdUps.resources) {
      expect(oneMore.cost).toBeLessThanOrEqual(holdUps.cost);
      if (enough !== null) {
        expect(enough.cost).toBeLessThan(holdUps.cost);
        expect(enough.cost).toBeLessThanOrEqual(oneMore.cost);
      }
    }
    expect(holdUps.bottleneck?.resource).toBe("moldSets");
  });
});

describe("what holds a tiny workshop up, against trying everything", () => {
  const asked = Array.from({ length: 120 }, (_, seed) => tinyCase(seed))
    .map((json) => ({ json, best: exhaustiveSearch(json).cost }))
    .filter(({ best }) => best > 0)
    .map((each) => ({ ...each, holdUps: whatHoldsUp(caseFromJson(each.json), { seed: 1, effort: plenty }) }));
  const reports = asked.flatMap(({ json, holdUps }) =>
    holdUps.resources.map((report) => ({ json, report, cost: holdUps.cost })),
  );

  test("is asked where something is late, and where one more helps as well as where it does not", () => {
    expect(asked.length).toBeGreaterThan(50);
    expect(reports.filter(({ report, cost }) => report.oneMore.cost < cost).length).toBeGreaterThan(20);
    expect(reports.filter(({ report }) => report.enough === null).length).toBeGreaterThan(100);
    expect(
      reports.filter(({ report }) => (report.enough?.limit ?? 0) > report.oneMore.limit).length,
    ).toBeGreaterThan(5);
  });

  test("savings are counted from the lowest cost there is", () => {
    for (const { json, best, holdUps } of asked) expect(holdUps.cost, json.name).toBeCloseTo(best, 6);
  });

  test("one step more of a resource costs what the best plan with it costs", () => {
    for (const { json, report } of reports) {
      const best = exhaustiveSearch(withLimit(json, report, report.oneMore.limit)).cost;
      expect(report.oneMore.cost, `${json.name}, one more of ${report.resource}`).toBeCloseTo(best, 6);
    }
  });

  test("what is enough reaches its cost, and a step less does not", () => {
    for (const { json, report } of reports) {
      const { enough } = report;
      if (enough === null || Math.abs(enough.limit - report.limit) > 4 * stepOf(report)) continue;
      const about = `${json.name}, enough of ${report.resource}`;
      expect(enough.cost, about).toBeCloseTo(exhaustiveSearch(withLimit(json, report, enough.limit)).cost, 6);
      const less = withLimit(json, report, enough.limit - stepOf(report));
      expect(exhaustiveSearch(less).cost, about).toBeGreaterThan(enough.cost + 1e-6);
    }
  });
});

function stepOf({ resource }: ResourceReport): number {
  return resource === "handMinutes" ? 60 : 1;
}

function withLimit(json: JsonCase, report: ResourceReport, limit: number): JsonCase {
  switch (report.resource) {
    case "trays":
      return { ...json, trays: limit };
    case "mixers":
      return { ...json, mixers: limit };
    case "handMinutes":
      return {
        ...json,
        sessions: json.sessions.map((each) => ({ ...each, handMinutes: each.handMinutes + limit })),
      };
    case "moldSets":
      return {
        ...json,
        shapes: json.shapes.map((shape) =>
          shape.id === report.shape ? { ...shape, moldSets: limit } : shape,
        ),
      };
  }
}
