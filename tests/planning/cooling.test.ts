import { expect, it } from "vitest";
import { build } from "../../server/planning/search/build.ts";
import { CaseSize } from "../../server/planning/search/caseSize.ts";
import { Cooling } from "../../server/planning/search/cooling.ts";
import { Instance } from "../../server/planning/search/instance.ts";
import { Random } from "../../server/planning/search/random.ts";
import { Schedule } from "../../server/planning/search/schedule.ts";
import { caseFromJson, caseOfFile } from "./caseFiles.ts";
import { tinyCase } from "./exhaustiveCases.ts";

/** A search, halfway to nowhere: it has taken everything out, and its best schedule costs so much. */
function coolingWithBest(cost: number, planCase = caseOfFile("week-2.json")) {
  const schedule = new Schedule(new Instance(planCase));
  build(schedule, new Random(1));
  const { cells } = schedule;
  const best = { cells: cells.slice(), cost, ticks: cells[schedule.ticks] ?? 0 };
  const isFound = () => cells[schedule.ticks] === best.ticks;
  const cooling = new Cooling(schedule, best, new CaseSize(schedule.instance), {
    isGood: false,
    isLeast: (least) => least === 0,
  });
  for (let order = 0; order < schedule.instance.orders; order++) schedule.clear(order);
  schedule.settleRuns();
  schedule.keep();
  return { cooling, isFound, schedule, best };
}

it("tries from its best, keeping only what is no worse, whether the little that is late can be had in time", () => {
  const { cooling, isFound } = coolingWithBest(5);
  cooling.look(0.19);
  expect(cooling.temperature).toBeGreaterThan(0);
  expect(isFound()).toBe(false);
  cooling.look(0.21);
  expect(cooling.temperature).toBe(0);
  expect(isFound()).toBe(true);
  cooling.look(0.3);
  expect(cooling.temperature).toBeGreaterThan(0);
});

it("goes on cooling where much is late", () => {
  const { cooling, isFound } = coolingWithBest(1_000);
  cooling.look(0.21);
  expect(cooling.temperature).toBeGreaterThan(0);
  expect(isFound()).toBe(false);
});

it("begins no hotter than a quarter of what is late, and is as hot as ever after a tenth of the search", () => {
  const [little, much] = [coolingWithBest(20).cooling, coolingWithBest(1_000).cooling];
  little.look(0.05);
  expect(little.temperature).toBe(5);
  for (const cooling of [little, much]) cooling.look(0.15);
  expect(little.temperature).toBe(much.temperature);
});

it("begins as hot as ever in a small case, into every corner of which only chance looks", () => {
  const { cooling } = coolingWithBest(1, caseFromJson(tinyCase(178)));
  cooling.look(0.05);
  expect(cooling.temperature).toBeGreaterThan(5);
});

it("cools anew, and far colder, from when nothing is late", () => {
  const { cooling } = coolingWithBest(0);
  cooling.look(0.6);
  const first = cooling.temperature;
  cooling.look(0.9);
  expect(cooling.temperature).toBeLessThan(first / 10);
  expect(cooling.temperature).toBeGreaterThan(0);
});

it("ends at its best, putting up with nothing worse", () => {
  const { cooling, isFound } = coolingWithBest(1_000);
  cooling.turn(0.95);
  expect(cooling.isPolishing).toBe(true);
  expect(cooling.temperature).toBe(0);
  expect(isFound()).toBe(true);
});

it("insists on what is late in its best, once that has stood for a while, and no more towards its end", () => {
  const { cooling, schedule, best } = coolingWithBest(5);
  const late = [...schedule.insistence.keys()].filter(
    (order) => (best.cells[schedule.orderCost + order] ?? 0) > 0,
  );
  const insistedOn = () =>
    [...schedule.insistence.keys()].filter((order) => schedule.insistence[order] !== 1);
  cooling.look(0.06);
  expect(insistedOn()).toEqual([]);
  cooling.look(0.1);
  expect(late.length).toBeGreaterThan(0);
  expect(insistedOn()).toEqual(late);
  for (const progress of [0.4, 0.6]) cooling.turn(progress);
  expect(insistedOn()).toEqual(late);
  cooling.turn(0.75);
  expect(insistedOn()).toEqual([]);
});

it("insists on nothing where much is late or nothing can be less", () => {
  for (const [cost, planCase] of [
    [1_000, caseOfFile("week-2.json")],
    [0, caseOfFile("week-2.json")],
    [1, caseFromJson(tinyCase(178))],
  ] as const) {
    const { cooling, schedule } = coolingWithBest(cost, planCase);
    for (const progress of [0.06, 0.1, 0.15]) cooling.look(progress);
    expect(new Set(schedule.insistence)).toEqual(new Set([1]));
  }
});

it("counts lateness by the case, whatever it insists on, and restores a schedule as it insists now", () => {
  const { schedule, best } = coolingWithBest(5);
  schedule.restore(best.cells);
  const { lateness } = schedule;
  const order = schedule.insistence.findIndex((_, at) => (schedule.cells[schedule.orderCost + at] ?? 0) > 0);
  const own = schedule.cells[schedule.orderCost + order] ?? 0;
  schedule.insistOn(order, 20);
  expect(schedule.cells[schedule.cost]).toBeCloseTo(lateness + 19 * own);
  expect(schedule.lateness).toBeCloseTo(lateness);
  schedule.restore(best.cells);
  expect(schedule.cells[schedule.orderCost + order]).toBeCloseTo(20 * own);
  schedule.insistNoMore();
  expect(schedule.cells[schedule.cost]).toBeCloseTo(lateness);
});
