import { describe, expect, test } from "vitest";
import { build } from "../../server/planning/search/build.ts";
import { Insertion } from "../../server/planning/search/insertion.ts";
import { Instance } from "../../server/planning/search/instance.ts";
import { lastDay } from "../../server/planning/search/lateness.ts";
import { MoveShares } from "../../server/planning/search/moveShares.ts";
import { OneBench } from "../../server/planning/search/oneBench.ts";
import { Random } from "../../server/planning/search/random.ts";
import { Resequencing } from "../../server/planning/search/resequencing.ts";
import { Schedule } from "../../server/planning/search/schedule.ts";
import { caseFromJson } from "./caseFiles.ts";
import { expectExactFigures } from "./expectExactFigures.ts";
import { generateCase } from "./generateCase.ts";

const size = { days: 8, orders: 12, blends: 5, units: 40 };

function begun(seed: number) {
  const planCase = caseFromJson(generateCase(seed, size));
  const schedule = new Schedule(new Instance(planCase));
  const random = new Random(seed);
  build(schedule, random);
  const insertion = new Insertion(schedule, random, new Int32Array(planCase.blends.length).fill(-1));
  const bench = new OneBench(schedule);
  bench.look();
  return { planCase, schedule, insertion, resequencing: new Resequencing(schedule, random, bench) };
}

const seeds = Array.from({ length: 15 }, (_, seed) => seed).filter(
  (seed) => generateCase(seed, size).orders.length > 1,
);

/** The day each order is ready, worked out from its lines; infinite where units are missing. */
function readyDays(schedule: Schedule): readonly number[] {
  const { instance } = schedule;
  return Array.from({ length: instance.orders }, (_, order) => {
    const first = instance.firstLine[order] ?? 0;
    const lines = Array.from({ length: (instance.firstLine[order + 1] ?? 0) - first }, (_, at) => first + at);
    return lines.some((line) => schedule.missing(line) > 0)
      ? Number.POSITIVE_INFINITY
      : lastDay(schedule, order);
  });
}

describe("orders put into another sequence", () => {
  test("leave an allowed schedule whose sums are those of the whole plan, move after move", () => {
    let kept = 0;
    for (const seed of seeds) {
      const { planCase, schedule, insertion, resequencing } = begun(seed);
      for (let move = 0; move < 30; move++) {
        const back = resequencing.touched;
        let whole = resequencing.strike(10);
        for (let at = 0; whole && at < resequencing.count; at++) whole = insertion.serve(back[at] ?? -1);
        if (!whole) {
          schedule.undo();
          continue;
        }
        schedule.keep();
        kept += 1;
        expectExactFigures(planCase, schedule);
      }
    }
    expect(kept).toBeGreaterThan(seeds.length * 15);
  });

  test("are all there as before when the move is taken back", () => {
    for (const seed of seeds) {
      const { schedule, insertion, resequencing } = begun(seed);
      const before = schedule.cells.slice();
      for (let move = 0; move < 20; move++) {
        if (resequencing.strike(10)) insertion.serve(resequencing.touched[0] ?? -1);
        schedule.undo();
        expect(schedule.cells.every((value, cell) => value === before[cell])).toBe(true);
      }
    }
  });

  test("are those between two places of the row by the day they are ready, and no others", () => {
    for (const seed of seeds) {
      const { schedule, resequencing } = begun(seed);
      const days = readyDays(schedule);
      for (let move = 0; move < 20; move++) {
        resequencing.strike(10);
        const touched = [...resequencing.touched.subarray(0, resequencing.count)];
        schedule.undo();
        expect(new Set(touched).size).toBe(touched.length);
        const dayOf = (order: number) => days[order] ?? Number.NaN;
        const first = Math.min(...touched.map(dayOf));
        const last = Math.max(...touched.map(dayOf));
        for (const [order, day] of days.entries()) {
          if (!touched.includes(order)) expect(day <= first || day >= last, `order ${order}`).toBe(true);
        }
        // Without the one or two that moved, the others are still in order.
        const ends = touched.slice(1, -1).map(dayOf);
        expect([ends.slice(1), ends.slice(0, -1)].some((part) => isRising(part))).toBe(true);
      }
    }
  });
});

function isRising(days: readonly number[]): boolean {
  return days.every((day, at) => at === 0 || day >= (days[at - 1] ?? Number.NaN));
}

describe("the share of moves that resequence", () => {
  function shareAfter(finds: (move: number, isSecond: boolean) => boolean, orders = 10): number {
    const shares = new MoveShares();
    for (let move = 0; move < 4_000; move++) {
      const isSecond = move % 2 === 0;
      shares.hear(isSecond, orders, finds(move, isSecond));
    }
    return shares.share;
  }

  test("stays as it is while nothing is found", () => {
    expect(shareAfter(() => false)).toBe(new MoveShares().share);
  });

  test("follows what each neighbourhood finds, and gives up neither", () => {
    const [alone, both, none] = [
      shareAfter((move, isSecond) => isSecond && move % 10 === 0),
      shareAfter((move) => move % 10 < 2),
      shareAfter((move, isSecond) => !isSecond && move % 10 === 1),
    ];
    expect(both).toBeCloseTo(0.5, 1);
    expect(alone).toBeGreaterThan(0.85);
    expect(alone).toBeLessThanOrEqual(0.9);
    expect(none).toBeLessThan(0.05);
    expect(none).toBeGreaterThanOrEqual(0.02);
  });

  test("counts finds for the work done", () => {
    const shares = new MoveShares();
    for (let move = 0; move < 4_000; move++) {
      const isSecond = move % 2 === 0;
      shares.hear(isSecond, isSecond ? 5 : 1, move % 10 < 2);
    }
    // As many finds in three times the work: it earns a third, so a tenth goes to it.
    expect(shares.share).toBeCloseTo(1 / 10, 2);
  });
});
