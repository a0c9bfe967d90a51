import { ok, type Result, refuse } from "../basics/result.ts";
import { type CaseMistake, caseLimits, type PlanCase } from "../planning/case.ts";
import { parseCase } from "../planning/parseCase.ts";
import { planCase as findPlan } from "../planning/planCase.ts";
import { whatHoldsUp } from "../planning/questions/whatHoldsUp.ts";
import type { Stop } from "../planning/stop.ts";
import { readJsonFile } from "./jsonFile.ts";
import { type OptionForm, readWords } from "./options.ts";
import { consoleOutput, type Output } from "./output.ts";
import { holdUpsText, planText } from "./planText.ts";

const usage = `Usage: plan CASE.json [--json] [--seconds S] [--seed N] [--what-holds-up]`;

const defaultSeconds = 2;
/** Longest search that can be asked for: a day. */
const mostSeconds = 86_400;

const forms: Readonly<Record<string, OptionForm>> = {
  "--json": "flag",
  "--what-holds-up": "flag",
  "--seconds": {
    takes: `a number of seconds, 0 to ${mostSeconds}`,
    accepts: (text) => /^\d+(\.\d+)?$/.test(text) && Number(text) <= mostSeconds,
  },
  "--seed": {
    takes: "a whole number, 0 to 4294967295",
    accepts: (text) => /^\d{1,10}$/.test(text) && Number(text) <= 4_294_967_295,
  },
};

export function run(words: readonly string[]): Promise<number> {
  return plan(words, consoleOutput);
}

/** Plans a case file and prints the plan, or what holds the workshop up; 2 where the case or an option is wrong. */
export async function plan(args: readonly string[], io: Output): Promise<number> {
  const words = readWords(args, forms);
  const file = words.ok ? words.value.files[0] : undefined;
  if (!words.ok || file === undefined || words.value.files.length > 1) {
    for (const mistake of words.ok ? ["name exactly one case file"] : words.refusal) io.err(mistake);
    io.err(usage);
    return 2;
  }
  const read = await readCaseFile(file);
  if (!read.ok) {
    for (const mistake of read.refusal) io.err(mistake);
    return 2;
  }
  const { flags, values } = words.value;
  const seconds = Number(values.get("--seconds") ?? defaultSeconds);
  const seed = Number(values.get("--seed") ?? 1);
  if (flags.has("--what-holds-up")) {
    io.out(holdUps(read.value, seed, seconds, flags.has("--json")));
    return 0;
  }
  const found = findPlan(read.value, { seed, stop: afterSeconds(seconds) });
  io.out(flags.has("--json") ? JSON.stringify(found, null, 2) : planText(read.value, found));
  return 0;
}

/** Reads a case file; refuses with a line for every mistake, each with its JSON path. */
export async function readCaseFile(file: string): Promise<Result<PlanCase, readonly string[]>> {
  const json = await readJsonFile(file, caseLimits.fileBytes);
  if (!json.ok) return refuse([json.refusal]);
  const parsed = parseCase(json.value);
  return parsed.ok ? ok(parsed.value) : refuse(parsed.refusal.map(mistakeLine));
}

export function mistakeLine(mistake: CaseMistake): string {
  return `${mistake.path} ${mistake.problem}`;
}

/** Ends after so many seconds of the wall clock, counted from now. */
export function afterSeconds(seconds: number): Stop {
  const begun = performance.now();
  return { progress: () => (seconds === 0 ? 1 : (performance.now() - begun) / 1000 / seconds) };
}

function holdUps(planCase: PlanCase, seed: number, seconds: number, asJson: boolean): string {
  const first = findPlan(planCase, { seed, stop: afterSeconds(seconds / 2) });
  const answer = whatHoldsUp(planCase, { seed, plan: first, effort: () => afterSeconds(seconds / 40) });
  return asJson ? JSON.stringify(answer, null, 2) : holdUpsText(answer);
}
