import { expect, it } from "vitest";
import { planCase } from "../../server/planning/planCase.ts";
import { caseFromJson, jsonOfFile, knownCases } from "./caseFiles.ts";
import type { JsonCase } from "./independentChecker.ts";

const file = "damp-3.json";
const { orders, ...workshop } = jsonOfFile(file);
const leastKnown = knownCases.find((known) => known.case === file)?.itsHandMinutes ?? 0;

/** Three searches for a case in which no order need be later than it would be alone. */
function expectLeastMinutes(asked: JsonCase): void {
  for (const seed of [1, 2, 3]) {
    const plan = planCase(caseFromJson(asked), {
      seed,
      stop: { progress: (iterations) => iterations / 40_000 },
    });
    expect(plan.cost).toBe(plan.bound);
    expect(plan.handMinutes / leastKnown).toBeLessThan(1.0005);
  }
}

it("saves hands down to the least minutes known where nothing need be late", () => {
  expectLeastMinutes({ ...workshop, orders });
});

it("saves as much where an order is late whatever is done, since that is known to be the least", () => {
  const overdue = { terms: "complete", shipBy: "2027-02-26" } as const;
  expectLeastMinutes({
    ...workshop,
    orders: orders.map((order, at) => (at === 0 ? { ...order, ...overdue } : order)),
  });
});
