import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { FreshStart } from "../../server/planning/search/freshStart.ts";
import { Insertion } from "../../server/planning/search/insertion.ts";
import { Instance } from "../../server/planning/search/instance.ts";
import { OneBench } from "../../server/planning/search/oneBench.ts";
import { OrderRow, type RowChange } from "../../server/planning/search/orderRow.ts";
import { Random } from "../../server/planning/search/random.ts";
import { Schedule } from "../../server/planning/search/schedule.ts";
import { drawChange, sequenceAtOneBench } from "../../server/planning/search/sequence.ts";
import { caseFromJson, jsonOfFile } from "./caseFiles.ts";
import { expectExactFigures } from "./expectExactFigures.ts";
import { generateCase } from "./generateCase.ts";
import type { JsonCase } from "./independentChecker.ts";
import {
  leastTardiness,
  orLibraryInstances,
  planningCase,
  type TardinessInstance,
  textbookInstances,
} from "./outside/weightedTardiness.ts";

/** A schedule in which every order has been served once, and what it shows of the workshop as one bench. */
function begun(json: JsonCase, seed = 1) {
  const planCase = caseFromJson(json);
  const schedule = new Schedule(new Instance(planCase));
  const random = new Random(seed);
  const insertion = new Insertion(schedule, random, new Int32Array(planCase.blends.length).fill(-1));
  insertion.taste = { worthShare: 1, blink: 0, leanLate: 1, part: 0 };
  for (let order = 0; order < schedule.instance.orders; order++) insertion.serve(order);
  schedule.keep();
  const bench = new OneBench(schedule);
  bench.look();
  return { planCase, schedule, random, bench, insertion };
}

type Jobs = Omit<TardinessInstance, "published">;

const someJobs: fc.Arbitrary<Jobs> = fc
  .array(
    fc.record({
      time: fc.integer({ min: 1, max: 9 }),
      weight: fc.integer({ min: 1, max: 9 }),
      due: fc.nat(30),
    }),
    {
      minLength: 1,
      maxLength: 7,
    },
  )
  .map((jobs) => ({
    name: "some jobs",
    processing: jobs.map((job) => job.time),
    weights: jobs.map((job) => job.weight),
    due: jobs.map((job) => job.due),
  }));

describe("the sequence of orders at one bench", () => {
  for (const { name, published, ...jobs } of textbookInstances) {
    test(`is late by what is published: ${name}`, () => {
      const { bench, random } = begun(planningCase({ name, ...jobs }));
      expect(sequenceAtOneBench(bench, random).cost).toBeCloseTo(published, 6);
    });
  }

  test("is late by the least that trying every sequence finds, for up to seven orders", () => {
    fc.assert(
      fc.property(someJobs, (jobs) => {
        const { bench, random } = begun(planningCase(jobs));
        expect(sequenceAtOneBench(bench, random).cost).toBeCloseTo(leastTardiness(jobs), 6);
      }),
      { numRuns: 60 },
    );
  });

  test("holds every order once", () => {
    const { bench, random, schedule } = begun(generateCase(3, { days: 8, orders: 12, blends: 5, units: 40 }));
    const { orders } = sequenceAtOneBench(bench, random);
    expect([...orders].sort((a, b) => a - b)).toEqual(
      Array.from({ length: schedule.instance.orders }, (_, order) => order),
    );
  });
});

describe("a change in a row of orders", () => {
  test("adds what was estimated, and leaves what measuring all anew finds", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const { bench, random, schedule } = begun(
        generateCase(seed, { days: 8, orders: 12, blends: 5, units: 40 }),
        seed,
      );
      const places = schedule.instance.orders;
      if (places < 2) continue;
      const row = new OrderRow(bench);
      row.measure();
      const change: RowChange = { first: 0, last: 0, way: "exchange" };
      for (let draw = 0; draw < 40; draw++) {
        drawChange(change, places, places, random);
        const after = Array.from(row.orders, (order, place) =>
          place < change.first || place > change.last ? order : row.orderAfter(change, place),
        );
        const expected = row.cost + row.estimate(change);
        row.make(change);
        expect([...row.orders]).toEqual(after);
        expect(row.cost).toBeCloseTo(expected, 6);
        const anew = new OrderRow(bench);
        anew.orders.set(row.orders);
        anew.measure();
        expect(anew.cost).toBeCloseTo(row.cost, 6);
      }
    }
  });
});

describe("a fresh start", () => {
  const [hard] = orLibraryInstances().slice(33);
  if (hard === undefined) throw new Error("the OR-Library has 125 instances");

  test("costs what the bench foretold where one limit binds everything, and another may follow", () => {
    const { planCase, schedule, bench, random, insertion } = begun(planningCase(hard));
    const start = new FreshStart(schedule, bench, random);
    const before = schedule.cells[schedule.cost] ?? 0;
    expect(start.replace(insertion, before)).toBe(true);
    expectExactFigures(planCase, schedule);
    expect(schedule.cells[schedule.cost]).toBeLessThan(before / 4);
    expect(start.isDue(0.5)).toBe(true);
  });

  test("changes nothing where what it makes is no better than what was there", () => {
    const { schedule, bench, random, insertion } = begun(jsonOfFile("hands-bound-0.json"));
    const before = schedule.cells.slice();
    const foretold = sequenceAtOneBench(bench, random).cost;
    expect(new FreshStart(schedule, bench, random).replace(insertion, foretold * 1.1)).toBe(false);
    expect(schedule.cells.every((value, cell) => value === before[cell])).toBe(true);
  });

  test("is the only one where its sequence was not worth serving, so that nothing is known of the bench", () => {
    const { schedule, bench, random, insertion } = begun(planningCase(hard));
    const start = new FreshStart(schedule, bench, random);
    expect(start.isDue(0)).toBe(true);
    expect(start.replace(insertion, 0)).toBe(false);
    expect(start.isDue(1)).toBe(false);
  });

  test("is the only one where the bench foretold something else", () => {
    const { schedule, bench, random, insertion } = begun(jsonOfFile("damp-2.json"));
    const start = new FreshStart(schedule, bench, random);
    start.replace(insertion, Number.POSITIVE_INFINITY);
    expect(start.isDue(1)).toBe(false);
  });
});
