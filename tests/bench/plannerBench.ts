import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import type { Plan } from "../../server/planning/plan.ts";
import { planCase } from "../../server/planning/planCase.ts";
import { caseOfFile, type KnownCase, knownCases } from "../planning/caseFiles.ts";

export interface BenchOptions {
  /** Seconds for every case; null for the time its size is meant to take. */
  readonly seconds: number | null;
  readonly seeds: number;
  readonly only: RegExp;
}

interface Measured {
  readonly plan: Plan;
  readonly firstSeconds: number;
  readonly bestSeconds: number;
  readonly iterations: number;
}

/** Plans every known case with several seeds and writes the table to RESULTS.md beside this file. */
export function benchPlanner(options: BenchOptions): void {
  const rows = knownCases
    .filter((known) => options.only.test(known.case))
    .map((known) => {
      const seconds = options.seconds ?? secondsFor(known.case);
      const runs = Array.from({ length: options.seeds }, (_, seed) => measure(known.case, seed + 1, seconds));
      const row = rowOf(known, seconds, runs);
      console.log(row);
      return row;
    });
  writeFileSync(path.join(import.meta.dirname, "RESULTS.md"), report(options, rows));
}

/** Seconds a case is given: the times the planner is judged by. */
function secondsFor(file: string): number {
  if (file.startsWith("season")) return 10;
  return file.startsWith("fortnight") ? 5 : 2;
}

/** Times are processor seconds of this process, so that a busy machine does not change the answer. */
function measure(file: string, seed: number, seconds: number): Measured {
  const begun = process.cpuUsage();
  const elapsed = () => {
    const { user, system } = process.cpuUsage(begun);
    return (user + system) / 1e6;
  };
  let iterations = 0;
  let firstSeconds = 0;
  let bestSeconds = 0;
  let progress = 0;
  const plan = planCase(caseOfFile(file), {
    seed,
    stop: {
      progress(done) {
        iterations = done;
        if (done % 16 === 0) progress = elapsed() / seconds;
        return progress;
      },
    },
    onBetter() {
      bestSeconds = elapsed();
      if (firstSeconds === 0) firstSeconds = bestSeconds;
    },
  });
  if (checkPlan(caseOfFile(file), plan).length > 0) throw new Error(`${file}: a plan that is not allowed`);
  return { plan, firstSeconds, bestSeconds, iterations };
}

function rowOf(known: KnownCase, seconds: number, runs: readonly Measured[]): string {
  const sorted = [...runs].sort(
    (a, b) => a.plan.cost - b.plan.cost || a.plan.handMinutes - b.plan.handMinutes,
  );
  const cost = (run: Measured | undefined) =>
    run === undefined ? "" : `${rounded(run.plan.cost)} / ${rounded(run.plan.handMinutes)}`;
  const median = sorted[(sorted.length - 1) >> 1];
  const worst = sorted.at(-1);
  const mean = (value: (run: Measured) => number) =>
    runs.reduce((sum, run) => sum + value(run), 0) / runs.length;
  const cells = [
    known.case.replace(".json", ""),
    String(seconds),
    `${known.bestKnownCost} / ${rounded(known.itsHandMinutes)}`,
    cost(sorted[0]),
    cost(median),
    cost(worst),
    gapOf(known, median),
    gapOf(known, worst),
    `${rounded(Math.max(...runs.map((run) => run.plan.bound)))} (${known.provenBound})`,
    mean((run) => run.firstSeconds).toFixed(3),
    mean((run) => run.bestSeconds).toFixed(2),
    `${Math.round(mean((run) => run.iterations) / 1000)} k`,
  ];
  return `| ${cells.join(" | ")} |`;
}

function gapOf(known: KnownCase, run: Measured | undefined): string {
  if (run === undefined) return "";
  const difference = run.plan.cost - known.bestKnownCost;
  const sign = difference > 0 ? "+" : "";
  if (known.bestKnownCost === 0 || difference === 0) return `${sign}${rounded(difference)}`;
  return `${sign}${((100 * difference) / known.bestKnownCost).toFixed(1)} %`;
}

function report(options: BenchOptions, rows: readonly string[]): string {
  const commit = execFileSync("git", ["rev-parse", "--short", "HEAD"], { encoding: "utf8" }).trim();
  return `# Measured

Written by \`npm run bench -- planner\`; run it again rather than editing this.

- Date ${new Date().toISOString().slice(0, 10)}, commit ${commit} (with changes not yet committed, if any)
- Machine: ${os.cpus().length} x ${os.cpus()[0]?.model ?? "unknown processor"}, Node ${process.version}
- Seeds 1 to ${options.seeds}; one thread; seconds are processor seconds, so other work on the machine does not count
- Cost is lateness in unit-days / hand minutes; the gap is of the lateness to the best known
- Bound: the highest proven, in brackets the best bound known from elsewhere
- "first" and "best": mean seconds until the first and the best plan; moves: mean moves tried

| case | s | best known | best seed | median | worst | gap median | gap worst | bound | first | best | moves |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
${rows.join("\n")}
`;
}

function rounded(value: number): string {
  return String(Math.round(value * 100) / 100);
}
