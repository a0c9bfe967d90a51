import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { goodOf, pressFor } from "../../server/learning/expectedLosses.ts";
import type { PlanCase } from "../../server/planning/case.ts";
import { planCase as plan } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { buildCase } from "../../server/plans/buildCase.ts";
import type { PlanFacts } from "../../server/plans/planFacts.ts";
import { lossesToCome, orderedUnits, withSpares } from "../../server/plans/spares.ts";
import { whatChanged } from "../../server/plans/whatChanged.ts";
import { calendarOf, factsOf, lotOf, orderOf } from "../build/planFacts.ts";

const mondayMorning = new Date("2027-03-01T08:00:00Z");
const CEDAR = "cedar/ball-60";

function built(facts: Partial<PlanFacts>, now = mondayMorning) {
  const outcome = buildCase(factsOf(facts), now);
  if (!outcome.ok) throw new Error(`no case: ${JSON.stringify(outcome.refusal)}`);
  return outcome.value;
}

/** One cedar ball in twenty is lost. */
const losing = (lossBasisPoints = 500): Partial<PlanFacts> => ({
  products: [{ code: CEDAR, blend: "cedar", shape: "ball-60", lossBasisPoints }],
  calendar: calendarOf({ horizonDays: 8 }),
});
const order = (reference: string, units: number, shipBy = "2027-03-05") =>
  orderOf({ reference, shipBy, lines: [{ product: CEDAR, units }] });
const lines = ({ planCase }: { readonly planCase: PlanCase }) =>
  planCase.orders.flatMap((each) => each.lines.map(({ units, spare = 0 }) => [units, spare]));

describe("what a plan makes for expected losses", () => {
  it("is two pieces more for 36 at 5 %, and the plan presses them", () => {
    const { planCase } = built({ ...losing(), orders: [order("W-1", 36)] });
    expect(lines({ planCase })).toEqual([[38, 2]]);
    const { runs } = plan(planCase, { seed: 1, stop: afterIterations(200) });
    expect(runs.flatMap(({ pieces }) => pieces)).toEqual([{ product: CEDAR, units: 38 }]);
  });

  it("is nothing for what the shelf has, whose pieces are good", () => {
    const stock = [{ product: CEDAR, units: 30 }];
    expect(lines(built({ ...losing(), stock, orders: [order("W-1", 30)] }))).toEqual([[30, 0]]);
    // 6 still to press: 7, of which 6.65 are good.
    expect(lines(built({ ...losing(), stock, orders: [order("W-1", 36)] }))).toEqual([[37, 1]]);
  });

  it("is rounded up once for all orders of a product", () => {
    const orders = Array.from({ length: 5 }, (_, at) => order(`W-${at}`, 6));
    // 30 good take 32 (31 are 29.45), not five times 7.
    expect(lines(built({ ...losing(), orders })).map(([, spare]) => spare)).toEqual([1, 0, 0, 1, 0]);
  });

  it("stands aside for losses of what is drying, so that nobody else counts on those pieces", () => {
    const drying = { lots: [lotOf({ units: 38, trays: 2 })] };
    const { planCase } = built({ ...losing(), ...drying, orders: [order("W-1", 36)] });
    expect(planCase.drying[0]).toMatchObject({ units: 38, expectedLosses: 2 });
    expect(lines({ planCase })).toEqual([[38, 2]]);
    // A second order of two pieces is pressed: 3, of which 2.85 are good.
    const both = built({ ...losing(), ...drying, orders: [order("W-1", 36), order("W-2", 2)] });
    expect(lines(both)).toEqual([
      [38, 2],
      [3, 1],
    ]);
  });

  it("ends with the losses: what was lost already is not expected any more", () => {
    expect(lossesToCome({ units: 38, pressed: 38 }, 500)).toBe(2);
    expect(lossesToCome({ units: 37, pressed: 38 }, 500)).toBe(1);
    expect(lossesToCome({ units: 36, pressed: 38 }, 500)).toBe(0);
    expect(lossesToCome({ units: 30, pressed: 38 }, 500)).toBe(0);
  });
});

describe("a plan that was made with expected losses", () => {
  const asked = { ...losing(), orders: [order("W-1", 36)] };
  const changes = (then: Partial<PlanFacts>, today: Partial<PlanFacts>) =>
    whatChanged(built(then), built(today), { called: new Set(), now: mondayMorning });
  const pressed = (units: number) => ({ ...asked, lots: [lotOf({ units, pressed: 38, trays: 2 })] });

  it("is not out of date when as much is lost as was expected, and is when more is", () => {
    expect(changes(pressed(38), pressed(37))).toEqual([]);
    expect(changes(pressed(38), pressed(36))).toEqual([]);
    expect(changes(pressed(38), pressed(35))).toEqual([
      { kind: "supply-changed", product: CEDAR, units: -1 },
    ]);
  });

  it("is out of date when other losses are expected", () => {
    expect(changes(asked, { ...asked, ...losing(800) })).toEqual([
      { kind: "losses-changed", product: CEDAR },
    ]);
  });

  it("knows an order by what it asks for, however many pieces are made beside", () => {
    const stock = [{ product: CEDAR, units: 30 }];
    expect(changes({ ...asked, stock }, asked)).toEqual([
      { kind: "supply-changed", product: CEDAR, units: -30 },
    ]);
  });
});

/** Orders, stock and a lot of one product, and what of it is lost. */
const anyCase = fc
  .record({
    lossBasisPoints: fc.integer({ min: 0, max: 5_000 }),
    ordered: fc.array(fc.integer({ min: 1, max: 80 }), { minLength: 1, maxLength: 8 }),
    shelf: fc.integer({ min: 0, max: 60 }),
    pressed: fc.integer({ min: 0, max: 60 }),
  })
  .map(({ lossBasisPoints, ordered, shelf, pressed }) => ({
    ...{ lossBasisPoints, shelf, pressed },
    built: built({
      ...losing(lossBasisPoints),
      stock: shelf === 0 ? [] : [{ product: CEDAR, units: shelf }],
      lots: pressed === 0 ? [] : [lotOf({ units: pressed, trays: 3 })],
      orders: ordered.map((units, at) => order(`W-${at}`, units)),
    }),
    wanted: ordered.reduce((sum, units) => sum + units, 0),
  }));

describe("for any orders, shelf, lot and rate", () => {
  it("shelf, good pieces of the lot and good pieces of what is pressed are enough, and a piece less would not be", () => {
    fc.assert(
      fc.property(anyCase, ({ lossBasisPoints, shelf, pressed, built: { planCase }, wanted }) => {
        const asked = planCase.orders
          .flatMap((each) => each.lines)
          .reduce((sum, { units }) => sum + units, 0);
        const toPress = Math.max(0, asked - shelf - pressed);
        const good = goodOf(pressed, lossBasisPoints);
        if (wanted <= shelf + good) {
          expect(toPress).toBe(0);
          return;
        }
        expect(toPress).toBe(pressFor(wanted - shelf - good, lossBasisPoints));
      }),
      { numRuns: 500 },
    );
  });

  it("what was ordered stays as it is, and doing it twice changes nothing", () => {
    fc.assert(
      fc.property(anyCase, ({ built: { planCase }, wanted }) => {
        const all = planCase.orders.flatMap((each) => each.lines);
        expect(all.reduce((sum, line) => sum + orderedUnits(line), 0)).toBe(wanted);
        expect(withSpares(planCase)).toEqual(planCase);
      }),
    );
  });
});
