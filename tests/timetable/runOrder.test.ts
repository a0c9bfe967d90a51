import { describe, expect, it } from "vitest";
import {
  MOST_ORDERED_EXACTLY,
  mustComeBefore,
  type OrderedRun,
  orderRuns,
  stepCost,
} from "../../server/timetable/runOrder.ts";
import { generator } from "../planning/generateCase.ts";

const CEDAR = 1;
const LAVENDER = 2;
const run = (runId: number, shade: number, ...scents: number[]): OrderedRun => ({ runId, shade, scents });
const order = (runs: readonly OrderedRun[], before?: OrderedRun) =>
  orderRuns(runs, before).runs.map(({ runId }) => runId);

describe("the order of runs", () => {
  it("is light to dark", () => {
    expect(order([run(1, 0.9, CEDAR), run(2, 0.2, LAVENDER), run(3, 0.5, CEDAR)])).toEqual([2, 3, 1]);
  });

  it("keeps a scent together where colours are nearly as light: a tenth darker may come first, more may not", () => {
    // Light to dark alone would change scent three times: cedar, lavender, cedar, lavender.
    const runs = [run(1, 0.3, CEDAR), run(2, 0.34, LAVENDER), run(3, 0.38, CEDAR), run(4, 0.4, LAVENDER)];
    expect(order(runs)).toEqual([1, 3, 2, 4]);
    // The lavender is 0.11 darker than the first cedar and as much lighter than the second: it stands between them.
    expect(order([run(1, 0.3, CEDAR), run(2, 0.41, LAVENDER), run(3, 0.52, CEDAR)])).toEqual([1, 2, 3]);
    expect(order([run(1, 0.3, CEDAR), run(2, 0.4, LAVENDER), run(3, 0.52, CEDAR)])).toEqual([2, 1, 3]);
  });

  it("never creeps from dark to light in small steps", () => {
    // Each is a tenth lighter than the one before, all of one scent: the rule looks at every pair.
    expect(order([run(1, 0.6, CEDAR), run(2, 0.5, CEDAR), run(3, 0.4, CEDAR)])).toEqual([3, 2, 1]);
  });

  it("goes on with the scent that is in the bowl", () => {
    const runs = [run(1, 0.3, CEDAR), run(2, 0.35, LAVENDER)];
    expect(order(runs)).toEqual([1, 2]);
    expect(order(runs, run(9, 0.2, LAVENDER))).toEqual([2, 1]);
  });

  it("takes a blend without scent for a scent of its own, and an unknown one for unlike any other", () => {
    const unknown = (runId: number, shade: number): OrderedRun => ({ runId, shade, scents: null });
    expect(order([run(1, 0.3), run(2, 0.34, CEDAR), run(3, 0.38)])).toEqual([1, 3, 2]);
    expect(order([unknown(1, 0.3), run(2, 0.34, CEDAR), unknown(3, 0.38)])).toEqual([1, 2, 3]);
  });

  it("takes two blends that have one oil in common for akin", () => {
    const runs = [run(1, 0.3, CEDAR), run(2, 0.34, 3), run(3, 0.38, 4, CEDAR)];
    expect(order(runs)).toEqual([1, 3, 2]);
  });

  it("is as good as the best of all orders that keep light before dark, on 400 drawn days of up to seven runs", () => {
    for (let seed = 1; seed <= 400; seed += 1) {
      const chance = generator(seed);
      const runs = Array.from({ length: 1 + Math.floor(chance() * 7) }, (_, at) => ({
        runId: at + 1,
        shade: Math.floor(chance() * 40) / 100,
        scents: chance() < 0.1 ? null : [1, 2, 3].filter(() => chance() < 0.4),
      }));
      const before = chance() < 0.5 ? run(99, chance(), 1) : null;
      const ordered = orderRuns(runs, before);
      expect(ordered.isBest).toBe(true);
      expect(keepsLightBeforeDark(ordered.runs), `seed ${seed}`).toBe(true);
      const best = Math.min(
        ...permutations(runs)
          .filter(keepsLightBeforeDark)
          .map((each) => costOf(each, before)),
      );
      expect(costOf(ordered.runs, before), `seed ${seed}`).toBe(best);
    }
  });

  it("stays exact at ten runs, and says that more of them are not proven best though they keep the rule", () => {
    const many = (count: number) =>
      Array.from({ length: count }, (_, at) => run(at + 1, ((at * 7) % count) / count, at % 3));
    expect(orderRuns(many(MOST_ORDERED_EXACTLY)).isBest).toBe(true);
    const beyond = orderRuns(many(MOST_ORDERED_EXACTLY + 1));
    expect(beyond.isBest).toBe(false);
    expect(keepsLightBeforeDark(beyond.runs)).toBe(true);
    expect(new Set(beyond.runs).size).toBe(MOST_ORDERED_EXACTLY + 1);
  });
});

function keepsLightBeforeDark(runs: readonly OrderedRun[]): boolean {
  return runs.every((later, at) => !runs.slice(0, at).some((earlier) => mustComeBefore(later, earlier)));
}

function costOf(runs: readonly OrderedRun[], before: OrderedRun | null): number {
  return runs.reduce((sum, each, at) => sum + stepCost(runs[at - 1] ?? before, each), 0);
}

function permutations<Item>(items: readonly Item[]): readonly (readonly Item[])[] {
  if (items.length === 0) return [[]];
  return items.flatMap((item, at) =>
    permutations(items.filter((_, other) => other !== at)).map((rest) => [item, ...rest]),
  );
}
