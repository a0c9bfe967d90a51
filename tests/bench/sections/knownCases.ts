import { jsonOfFile, type KnownCase, knownCases } from "../../planning/caseFiles.ts";
import { inChild } from "../inChild.ts";
import { median, toMilliseconds, toPercent, toPlain } from "../table.ts";
import type { HighsRun, PlanRun, ProofRun } from "../tasks.ts";
import { firstPlan } from "./firstPlan.ts";
import { highsPatience, type Section, shortened } from "./section.ts";

/** Seconds the prover gets for a case. */
const proofSeconds = 5;

/** Cases whose best known plan is on file. */
export function plansSection(
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
      `${shortened(extent, budget)} s a seed for the planner, on one core, in one process per case; a search ends earlier where the plan is proven best. Two searches with seeds that follow each other count as one, the better plan taken, as the server and the command line run them on two cores, the first of them working on the bound too; ${extent.seeds.length} such pairs. One search alone: median and worst of all of them.`,
      `HiGHS (npm highs) got ${highsPatience(extent)} s for the model in tests/planning/outside/mipModel.ts: the cost of its plan after the planner's time (and how many times the planner's worst that is), after all of its own, and its bound then; - where it had no plan.`,
      `Proof: what the prover (server/proving) proves by itself in ${shortened(extent, proofSeconds)} s; bold where HiGHS with all its time proves less or as little.`,
      "Over best known: the worst seed's cost against the best known one; below 0 a better plan was found. Minutes are the most of any plan that is just as late as the best known one, against its own; - where there is none.",
      "First plan: from the parsed case to the first allowed plan, median over the seeds; the first seed runs on cold code. Least lateness: until the cost it ended with was found, the slowest of all searches. Last better plan, in cost or in minutes: median. Moves a second: median, by which machines can be compared. Memory: the most the process ever held, Node itself included.",
    ],
    measure: async (extent, heard) => {
      const rows: (readonly string[])[] = [];
      for (const known of cases) {
        const json = jsonOfFile(known.case);
        const seconds = shortened(extent, budget);
        const seeds = extent.seeds.flatMap((seed) => [2 * seed - 1, 2 * seed]);
        const plans = await inChild("plan", { json, seeds, seconds });
        const highs = await inChild("highs", { json, seconds: highsPatience(extent) });
        const proof = await inChild("prove", { json, seconds: shortened(extent, proofSeconds) });
        heard(plans.coreShare);
        heard(proof.coreShare);
        heard(highs.coreShare);
        rows.push(planRow(known, plans.value, highs.value, proof.value, seconds, plans.peakMegabytes));
      }
      return {
        head: [
          "case",
          "best known",
          "its bound",
          "one search alone",
          "cost, median",
          "cost, worst",
          "over best known",
          "minutes over its",
          "bound, median",
          "proof",
          "HiGHS in equal time",
          "HiGHS, all its time",
          "HiGHS bound",
          "first plan, ms",
          "HiGHS first plan, ms",
          "least lateness, s",
          "last better plan, s",
          "moves a second",
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
  proof: ProofRun,
  seconds: number,
  megabytes: number,
): readonly string[] {
  const alone = runs.map(({ cost }) => cost);
  const pairs = pairsOf(runs);
  const found = pairs.map(([one, other]) => (isBetter(other, one) ? other : one));
  const costs = found.map(({ cost }) => cost);
  const worst = Math.max(...costs);
  // A plan that is less late is better whatever its hand minutes are, so those are compared at equal lateness only.
  const asLate = found.filter(({ cost }) => Math.abs(cost - known.bestKnownCost) <= 1e-6);
  const minutes = Math.max(...asLate.map(({ handMinutes }) => handMinutes));
  return [
    known.case.replace(".json", ""),
    toPlain(known.bestKnownCost),
    toPlain(known.provenBound),
    `${toPlain(median(alone))} to ${toPlain(Math.max(...alone))}`,
    toPlain(median(costs)),
    toPlain(worst),
    toPercent(worst, known.bestKnownCost),
    asLate.length === 0 ? "-" : toPercent(minutes, known.itsHandMinutes),
    toPlain(median(pairs.map((pair) => Math.max(...pair.map(({ bound }) => bound))))),
    proofWords(proof, highs),
    withRatio(costWithin(highs, seconds), worst),
    `${toPlain(highs.cost)}${highs.proven ? " proven" : ""}`,
    toPlain(highs.bound),
    toMilliseconds(firstPlan(runs)),
    toMilliseconds(highs.better[0]?.seconds ?? Number.NaN),
    Math.max(...runs.map(secondsToItsCost)).toFixed(2),
    median(runs.map(({ better }) => better.at(-1)?.seconds ?? 0)).toFixed(2),
    median(runs.map(({ moves, seconds: spent }) => moves / spent)).toFixed(0),
    megabytes.toFixed(0),
  ];
}

function pairsOf<Item>(items: readonly Item[]): readonly (readonly [Item, Item])[] {
  return items.flatMap((item, at) => (at % 2 === 0 ? [[item, items[at + 1] ?? item] as const] : []));
}

/** Until a plan as little late as the last one was there. */
function secondsToItsCost({ better, cost }: PlanRun): number {
  return better.find((each) => each.cost <= cost + 1e-6)?.seconds ?? Number.NaN;
}

/** By lateness, then by hand minutes. */
function isBetter(one: PlanRun, other: PlanRun): boolean {
  return one.cost < other.cost || (one.cost === other.cost && one.handMinutes < other.handMinutes);
}

function proofWords({ bound }: ProofRun, highs: HighsRun): string {
  if (bound === null) return "too large";
  return bound >= highs.bound - 1e-6 ? `**${toPlain(bound)}**` : toPlain(bound);
}

/** A cost, and how many times ours it is. */
function withRatio(cost: number | null, ours: number): string {
  return cost === null || ours === 0 ? toPlain(cost) : `${toPlain(cost)} (${(cost / ours).toFixed(1)} x)`;
}

/** The best cost reached in time; null where there was no plan yet. */
function costWithin({ better }: HighsRun, seconds: number): number | null {
  const costs = better.filter((each) => each.seconds <= seconds).map(({ cost }) => cost);
  return costs.length === 0 ? null : Math.min(...costs);
}
