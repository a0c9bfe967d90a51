import { ok, type Result, refuse } from "../basics/result.ts";
import { type CaseMistake, caseLimits, type PlanCase } from "../planning/case.ts";
import { type NewOrder, parseCase, parseNewOrder } from "../planning/parseCase.ts";
import { planCase as findPlan } from "../planning/planCase.ts";
import { promise } from "../planning/questions/promise.ts";
import { whatHoldsUp } from "../planning/questions/whatHoldsUp.ts";
import { afterIterations, type Stop } from "../planning/stop.ts";
import { readJsonFile } from "./jsonFile.ts";
import { type OptionForm, readWords, type Words } from "./options.ts";
import { consoleOutput, type Output } from "./output.ts";
import { holdUpsText, planText, promiseText } from "./planText.ts";

const usage = `Usage: plan CASE.json [--json] [--seconds S] [--seed N] [--what-holds-up | --promise ORDER.json]`;

const defaultSeconds = 2;
/** Longest search that can be asked for: a day. */
const mostSeconds = 86_400;

/** Moves for one of the many plans behind a question: what a week needs to settle. */
const replanIterations = 3_000;

const forms: Readonly<Record<string, OptionForm>> = {
  "--json": "flag",
  "--what-holds-up": "flag",
  "--promise": { takes: "an order file", accepts: (text) => text !== "" && !text.startsWith("--") },
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

/** Plans a case file and prints the plan or the answer asked for; 2 where the case or an option is wrong. */
export async function plan(args: readonly string[], io: Output): Promise<number> {
  const words = readWords(args, forms);
  const mistakes = words.ok ? wrongFiles(words.value.files) : words.refusal;
  if (!words.ok || mistakes.length > 0) {
    for (const mistake of [...mistakes, usage]) io.err(mistake);
    return 2;
  }
  const answer = await answerTo(words.value);
  if (!answer.ok) {
    for (const mistake of answer.refusal) io.err(mistake);
    return 2;
  }
  io.out(answer.value);
  return 0;
}

function wrongFiles(files: readonly string[]): readonly string[] {
  return files.length === 1 ? [] : ["name exactly one case file"];
}

/** What to print: the answer to the question the words ask, or every mistake in the files they name. */
async function answerTo({ files, flags, values }: Words): Promise<Result<string, readonly string[]>> {
  const read = await readCaseFile(files[0] ?? "");
  if (!read.ok) return read;
  const planCase = read.value;
  const seconds = Number(values.get("--seconds") ?? defaultSeconds);
  const seed = Number(values.get("--seed") ?? 1);
  const asJson = flags.has("--json");
  if (flags.has("--what-holds-up")) return ok(holdUps(planCase, seed, seconds, asJson));
  const orderFile = values.get("--promise");
  if (orderFile !== undefined) {
    const order = await readOrderFile(orderFile, planCase);
    return order.ok ? ok(promised(planCase, order.value, seed, seconds, asJson)) : order;
  }
  const found = findPlan(planCase, { seed, stop: afterSeconds(seconds) });
  return ok(asJson ? JSON.stringify(found, null, 2) : planText(planCase, found));
}

/** Reads a case file; refuses with a line for every mistake, each with its JSON path. */
export async function readCaseFile(file: string): Promise<Result<PlanCase, readonly string[]>> {
  const json = await readJsonFile(file, caseLimits.fileBytes);
  if (!json.ok) return refuse([json.refusal]);
  const parsed = parseCase(json.value);
  return parsed.ok ? ok(parsed.value) : refuse(parsed.refusal.map(mistakeLine));
}

async function readOrderFile(file: string, planCase: PlanCase): Promise<Result<NewOrder, readonly string[]>> {
  const json = await readJsonFile(file, caseLimits.fileBytes);
  if (!json.ok) return refuse([json.refusal]);
  const parsed = parseNewOrder(json.value, planCase);
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

/** Ends after a number of iterations or seconds, whichever is over first. */
function afterEffort(iterations: number, seconds: number): Stop {
  const byCount = afterIterations(iterations);
  const byClock = afterSeconds(seconds);
  return { progress: (done) => Math.max(byCount.progress(done), byClock.progress(done)) };
}

function holdUps(planCase: PlanCase, seed: number, seconds: number, asJson: boolean): string {
  const first = findPlan(planCase, { seed, stop: afterSeconds(seconds / 2) });
  const answer = whatHoldsUp(planCase, {
    seed,
    plan: first,
    effort: () => afterEffort(replanIterations, seconds / 4),
  });
  return asJson ? JSON.stringify(answer, null, 2) : holdUpsText(answer);
}

/** Half of the time goes into the plan the accepted orders stand by, the rest into the date. */
function promised(
  planCase: PlanCase,
  { order, wished }: NewOrder,
  seed: number,
  seconds: number,
  asJson: boolean,
): string {
  const current = findPlan(planCase, { seed, stop: afterSeconds(seconds / 2) });
  const answer = promise(planCase, order, {
    seed,
    plan: current,
    wished,
    stop: afterSeconds(seconds / 2),
  });
  if (!asJson) return promiseText(order.id, answer);
  const { earliest, instead } = answer;
  if (instead === null) return JSON.stringify({ earliest }, null, 2);
  const { piecesByWished, inTheWay } = instead;
  return JSON.stringify({ earliest, wished: instead.wished, piecesByWished, inTheWay }, null, 2);
}
