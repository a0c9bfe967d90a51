import { jsonOfFile, type KnownCase, knownCases } from "../planning/caseFiles.ts";
import type { JsonCase } from "../planning/independentChecker.ts";
import { orLibraryInstances, planningCase } from "../planning/outside/weightedTardiness.ts";
import { exponent } from "./growth.ts";
import { inChild } from "./inChild.ts";
import { median, type Table, toMilliseconds, toPercent, toPlain } from "./table.ts";
import type { HighsRun, PlanRun } from "./tasks.ts";
import { ladder, piecesOf, works, worksCase } from "./worksCase.ts";

/** How much is measured: everything, or enough to see that all is well. */
export interface Extent {
  readonly quick: boolean;
  readonly seeds: readonly number[];
}

/** One part of the benchmark: what it measures, by itself. */
export interface Section {
  readonly name: string;
  readonly title: string;
  /** How it was measured, a sentence each. */
  readonly method: (extent: Extent) => readonly string[];
  /** Measures, telling each core share as it goes. */
  readonly measure: (extent: Extent, heard: (coreShare: number) => void) => Promise<Table>;
}

/** Seconds the general solver gets for a case, so that what it reaches with patience is seen as well. */
const highsPatience = ({ quick }: Extent) => (quick ? 5 : 25);
const shortened = ({ quick }: Extent, seconds: number) => (quick ? seconds / 4 : seconds);

export const sections: readonly Section[] = [
  tinySection(),
  plansSection("weeks", "Weeks", 2, (file) => file.startsWith("week-")),
  plansSection("damp", "Damp weeks", 2, (file) => file.startsWith("damp-")),
  plansSection("fortnights", "Fortnights", 5, (file) => file.startsWith("fortnight-")),
  plansSection("season", "Season", 10, (file) => file.startsWith("season-")),
  plansSection("named", "Named cases", 2, (file) => !/^(week|damp|fortnight|season)-/.test(file)),
  publishedSection(),
  worksSection(),
  questionSection("holdups", "What holds us up, all resources", "holdUps"),
  questionSection("promise", "When can I promise it", "promise"),
  growthSection(),
];

function tinySection(): Section {
  const cases = ({ quick }: Extent) => (quick ? 100 : 300);
  return {
    name: "tiny",
    title: "Tiny cases",
    method: (extent) => [
      `${cases(extent)} drawn cases of 3 to 5 sessions, 60 ms each. Best and bound are compared with the best plan found by trying everything, in cost and in hand minutes.`,
      "HiGHS got 5 s a case for both stages, cost first and then minutes.",
    ],
    measure: async (extent, heard) => {
      const input = { cases: cases(extent), seeds: extent.seeds, seconds: 0.06 };
      const { value: runs, coreShare } = await inChild("tiny", input);
      heard(coreShare);
      const { value: highs } = await inChild("tinyHighs", { cases: extent.quick ? 30 : 300, seconds: 5 });
      return {
        head: ["seed", "best plans", "of", "bound is the optimum", "slowest case, ms"],
        rows: [
          ...runs.map((run) => [
            `${run.seed}`,
            `${run.best}`,
            `${run.cases}`,
            `${run.boundTight}`,
            toMilliseconds(run.slowest),
          ]),
          ["HiGHS", `${highs.agree}`, `${highs.cases}`, `${highs.proven} proven`, "-"],
        ],
      };
    },
  };
}

function plansSection(
  name: string,
  title: string,
  budget: number,
  holds: (file: string) => boolean,
): Section {
  const cases = knownCases.filter((known) => holds(known.case));
  return {
    name,
    title,
    method: (extent) => [
      `${shortened(extent, budget)} s a seed for the planner, on one core, in one process per case; a search ends earlier where the plan is proven best. Median and worst over seeds ${extent.seeds.join(", ")}.`,
      `HiGHS (npm highs) got ${highsPatience(extent)} s for the model in tests/planning/outside/mipModel.ts: its plan after the planner's time, after all of its own, and its bound then.`,
      "Over best known: the worst seed's cost against the best known one; below 0 a better plan was found. Minutes are those of plans that cost no more than the best known plan, against its own; - where there is none.",
      "First plan: from the parsed case to the first allowed plan, median over the seeds; the first seed runs on cold code. Last better plan: median. Memory: the most the process ever held, Node itself included.",
    ],
    measure: async (extent, heard) => {
      const rows: (readonly string[])[] = [];
      for (const known of cases) {
        const json = jsonOfFile(known.case);
        const seconds = shortened(extent, budget);
        const plans = await inChild("plan", { json, seeds: extent.seeds, seconds });
        const highs = await inChild("highs", { json, seconds: highsPatience(extent) });
        heard(plans.coreShare);
        heard(highs.coreShare);
        rows.push(planRow(known, plans.value, highs.value, seconds, plans.peakMegabytes));
      }
      return {
        head: [
          "case",
          "best known",
          "its bound",
          "cost, median",
          "cost, worst",
          "over best known",
          "minutes over its",
          "bound, median",
          "HiGHS in equal time",
          "HiGHS, all its time",
          "HiGHS bound",
          "first plan, ms",
          "HiGHS first plan, ms",
          "last better plan, s",
          "MB",
        ],
        rows,
      };
    },
  };
}

function planRow(
  known: KnownCase,
  runs: readonly PlanRun[],
  highs: HighsRun,
  seconds: number,
  megabytes: number,
): readonly string[] {
  const costs = runs.map(({ cost }) => cost);
  const worst = Math.max(...costs);
  const asGood = runs.filter(({ cost }) => cost <= known.bestKnownCost + 1e-6);
  const minutes = Math.max(...asGood.map(({ handMinutes }) => handMinutes));
  return [
    known.case.replace(".json", ""),
    toPlain(known.bestKnownCost),
    toPlain(known.provenBound),
    toPlain(median(costs)),
    toPlain(worst),
    toPercent(worst, known.bestKnownCost),
    asGood.length === 0 ? "-" : toPercent(minutes, known.itsHandMinutes),
    toPlain(median(runs.map(({ bound }) => bound))),
    toPlain(highs.better.findLast((each) => each.seconds <= seconds)?.cost ?? null),
    `${toPlain(highs.cost)}${highs.proven ? " proven" : ""}`,
    toPlain(highs.bound),
    toMilliseconds(firstPlan(runs)),
    toMilliseconds(highs.better[0]?.seconds ?? Number.NaN),
    median(runs.map(({ better }) => better.at(-1)?.seconds ?? 0)).toFixed(2),
    megabytes.toFixed(0),
  ];
}

function firstPlan(runs: readonly PlanRun[]): number {
  return median(runs.map(({ better }) => better[0]?.seconds ?? Number.NaN));
}

function publishedSection(): Section {
  const chosen = ({ quick }: Extent) => orLibraryInstances().filter((_, at) => !quick || at % 25 === 0);
  return {
    name: "wt40",
    title: "OR-Library weighted tardiness, 40 jobs",
    method: (extent) => [
      `${chosen(extent).length} of the 125 instances, one search of ${shortened(extent, 10)} s each with seed 1. Each is planned as a case of one bowl a day (tests/planning/outside/weightedTardiness.ts), in which a plan's cost is the weighted tardiness. Number 19 is compared with the best known value, all others with the proven least.`,
      "Not given to HiGHS: with some 2,000 sessions the model would have about a hundred million coefficients. The published values are the judge here.",
    ],
    measure: async (extent, heard) => {
      const seconds = shortened(extent, 10);
      const found: { published: number; half: number; cost: number; bound: number }[] = [];
      for (const instance of chosen(extent)) {
        const json = planningCase(instance);
        const { value, coreShare } = await inChild("plan", { json, seeds: [1], seconds });
        heard(coreShare);
        for (const { better, cost, bound } of value) {
          const half =
            better.findLast((each) => each.seconds <= seconds / 2)?.cost ?? Number.POSITIVE_INFINITY;
          found.push({ published: instance.published, half, cost, bound });
        }
      }
      const within = (share: number, cost: (each: (typeof found)[number]) => number) =>
        `${found.filter((each) => cost(each) <= each.published * (1 + share) + 1e-3).length}`;
      const over = found
        .filter(({ published }) => published > 0)
        .map((each) => each.cost / each.published - 1);
      return {
        head: [
          "instances",
          "after",
          "exactly",
          "within 1 %",
          "within 5 %",
          "median above",
          "worst above",
          "bound tight",
        ],
        rows: [
          [
            `${found.length}`,
            `${seconds / 2} s`,
            within(0, (each) => each.half),
            within(0.01, (each) => each.half),
            within(0.05, (each) => each.half),
            "",
            "",
            "",
          ],
          [
            `${found.length}`,
            `${seconds} s`,
            within(0, (each) => each.cost),
            within(0.01, (each) => each.cost),
            within(0.05, (each) => each.cost),
            `${(median(over) * 100).toFixed(1)} %`,
            `${(Math.max(...over) * 100).toFixed(1)} %`,
            `${found.filter(({ bound, published }) => bound >= published * (1 - 1e-6)).length}`,
          ],
        ],
      };
    },
  };
}

function worksSection(): Section {
  return {
    name: "works",
    title: "Works",
    method: (extent) => [
      `A drawn works of 1,000 orders, some 40,000 pieces and 60 sessions (tests/bench/worksCase.ts), ${shortened(extent, 20)} s a seed. The first plan's time is from the parsed case; memory is the most the process ever held, Node itself included.`,
      "Not given to HiGHS: a season is beyond it already.",
    ],
    measure: async (extent, heard) => {
      const json = worksCase(works);
      const rows: (readonly string[])[] = [];
      const seeds = extent.quick ? extent.seeds.slice(0, 2) : extent.seeds;
      for (const seed of seeds) {
        const seconds = shortened(extent, 20);
        const { value, coreShare, peakMegabytes } = await inChild("plan", { json, seeds: [seed], seconds });
        heard(coreShare);
        for (const run of value) {
          const first = run.better[0]?.cost ?? Number.NaN;
          rows.push([
            `${seed}`,
            toMilliseconds(firstPlan([run])),
            toPlain(first),
            toPlain(run.cost),
            `${((run.cost / first) * 100).toFixed(0)} %`,
            toPlain(run.bound),
            `${Math.round(run.moves / run.seconds)}`,
            peakMegabytes.toFixed(0),
          ]);
        }
      }
      return {
        head: ["seed", "first plan, ms", "its cost", "cost", "of the first", "bound", "moves a second", "MB"],
        rows,
      };
    },
  };
}

function questionSection(name: string, title: string, task: "holdUps" | "promise"): Section {
  const cases: readonly string[] = ["week-1", "week-2", "week-5", "fortnight-1", "fortnight-2", "season-0"];
  return {
    name,
    title,
    method: (extent) => [
      `Time of the question alone, asked about a finished plan, with 1,000 moves for each re-plan as in the server; median and worst over seeds ${extent.seeds.join(", ")}.`,
    ],
    measure: async (extent, heard) => {
      const rows: (readonly string[])[] = [];
      for (const each of cases) {
        const json = jsonOfFile(`${each}.json`);
        const { value, coreShare } = await inChild(task, { json, seeds: extent.seeds, seconds: 0.5 });
        heard(coreShare);
        const seconds = value.map((run) => run.seconds);
        rows.push([each, median(seconds).toFixed(2), Math.max(...seconds).toFixed(2)]);
      }
      return { head: ["case", "median, s", "worst, s"], rows };
    },
  };
}

function growthSection(): Section {
  return {
    name: "growth",
    title: "Growth",
    method: () => [
      "Drawn workshops in which orders, sessions, blends, molds and hands grow together (tests/bench/worksCase.ts), 2 s each, one seed. The exponent k is the slope of the straight line through the logarithms: growth like size to the power k.",
    ],
    measure: async (_, heard) => {
      const steps: { json: JsonCase; run: PlanRun; peakMegabytes: number }[] = [];
      for (const size of ladder) {
        const json = worksCase(size);
        const { value, coreShare, peakMegabytes } = await inChild("plan", { json, seeds: [1], seconds: 2 });
        heard(coreShare);
        for (const run of value) steps.push({ json, run, peakMegabytes });
      }
      const sizes: readonly (readonly [string, (json: JsonCase) => number])[] = [
        ["pieces", piecesOf],
        ["orders", (json) => json.orders.length],
        ["sessions", (json) => json.sessions.length],
        ["products", (json) => json.products.length],
      ];
      const timePerMove = ({ run }: (typeof steps)[number]) =>
        (run.seconds - (run.better[0]?.seconds ?? 0)) / Math.max(1, run.moves);
      const measures: readonly (readonly [string, (step: (typeof steps)[number]) => number])[] = [
        ["microseconds a move", (step) => timePerMove(step) * 1e6],
        ["first plan, ms", (step) => firstPlan([step.run]) * 1_000],
        ["MB", (step) => step.peakMegabytes],
      ];
      return {
        head: ["", ...sizes.map(([size]) => size), ...measures.map(([measure]) => measure)],
        rows: [
          ...steps.map((step) => [
            step.json.name,
            ...sizes.map(([, size]) => `${size(step.json)}`),
            ...measures.map(([, measure]) => toPlain(Math.round(measure(step) * 10) / 10)),
          ]),
          ...sizes.map(([name, size]) => [
            `exponent against ${name}`,
            ...sizes.map(() => ""),
            ...measures.map(([, measure]) =>
              exponent(steps.map((step) => [size(step.json), measure(step)])).toFixed(2),
            ),
          ]),
        ],
      };
    },
  };
}
