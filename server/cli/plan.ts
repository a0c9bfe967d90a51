import { availableParallelism } from "node:os";
import { ok, type Result, refuse } from "../basics/result.ts";
import { type CaseMistake, caseLimits, type PlanCase } from "../planning/case.ts";
import { type NewOrder, parseCase, parseNewOrder } from "../planning/parseCase.ts";
import type { Plan } from "../planning/plan.ts";
import { planCase as findPlan } from "../planning/planCase.ts";
import { promise } from "../planning/questions/promise.ts";
import { whatHoldsUp } from "../planning/questions/whatHoldsUp.ts";
import { seeds } from "../planning/search/random.ts";
import { afterEffort } from "../plans/afterEffort.ts";
import { afterSeconds, type TimedStop } from "../plans/afterSeconds.ts";
import { betterPlan } from "../plans/betterPlan.ts";
import type { Planner } from "../plans/plannerPool.ts";
import { SearchBeside } from "../plans/searchBeside.ts";
import { isProvenBest, withBound } from "../plans/withBound.ts";
import type { Proof } from "../proving/proof.ts";
import { readJsonFile } from "./jsonFile.ts";
import { type OptionForm, readWords, type Words } from "./options.ts";
import { consoleOutput, type Output } from "./output.ts";
import { holdUpsText, planText, promiseText, rounded } from "./planText.ts";

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
    takes: `a whole number, 0 to ${seeds - 1}`,
    accepts: (text) => /^\d{1,10}$/.test(text) && Number(text) < seeds,
  },
};

/** How long npm and the loader of the sources take before this process begins to count. */
const launchMs = 300;
/** What is left for printing the answer and ending. */
const endingMs = 50;
/** With less left than that, a pool of threads would spend it on starting: the search then runs in this one and one beside it. */
const leastForThreadsMs = 1_500;
/** With less left than that, a thread beside this one would hardly have begun when the time is over. */
const leastForBesideMs = 700;
/** What it may take longer than the search in this thread: it has its answer to send. */
const besideGraceMs = 40;
/** With less left than that, two cores find a better plan by both searching than one of them proves about it. */
const leastForProofMs = 4_000;
/** Share of the time after which one of two cores proves instead of searching. */
const searchingShare = 0.4;
/** By convention 128 and the signal's number, where an interrupted search had no plan yet. */
const interruptedCode = 130;

interface Circumstances {
  /** When the seconds asked for began, by the clock. */
  readonly begunMs: number;
  /** Milliseconds. */
  readonly clock: () => number;
}

const ownClock = () => performance.now();

export function run(words: readonly string[]): Promise<number> {
  return plan(words, consoleOutput, { begunMs: -launchMs - endingMs, clock: ownClock });
}

/**
 * Plans a case file and prints the plan or the answer asked for; 2 where the case or an option is wrong, 130 where the
 * search was interrupted before it had a plan.
 */
export async function plan(
  args: readonly string[],
  io: Output,
  circumstances: Circumstances = { begunMs: ownClock(), clock: ownClock },
): Promise<number> {
  const words = readWords(args, forms);
  const mistakes = words.ok ? wrongFiles(words.value.files) : words.refusal;
  if (!words.ok || mistakes.length > 0) {
    for (const mistake of [...mistakes, usage]) io.err(mistake);
    return 2;
  }
  const answer = await answerTo(words.value, io, circumstances);
  if (!answer.ok) {
    for (const mistake of answer.refusal) io.err(mistake);
    return 2;
  }
  if (answer.value === null) {
    io.err("Interrupted before there was a plan.");
    return interruptedCode;
  }
  io.out(answer.value);
  return 0;
}

function wrongFiles(files: readonly string[]): readonly string[] {
  return files.length === 1 ? [] : ["name exactly one case file"];
}

/** What to print: the answer to the question the words ask, or every mistake in the files they name. */
async function answerTo(
  { files, flags, values }: Words,
  io: Output,
  { begunMs, clock }: Circumstances,
): Promise<Result<string | null, readonly string[]>> {
  const read = await readCaseFile(files[0] ?? "");
  if (!read.ok) return read;
  const planCase = read.value;
  const seconds = Number(values.get("--seconds") ?? defaultSeconds);
  const deadline = new Deadline(begunMs + seconds * 1000, clock);
  const seed = Number(values.get("--seed") ?? 1);
  const asJson = flags.has("--json");
  if (flags.has("--what-holds-up")) return ok(holdUps(planCase, seed, deadline, asJson));
  const orderFile = values.get("--promise");
  if (orderFile !== undefined) {
    const order = await readOrderFile(orderFile, planCase);
    return order.ok ? ok(promised(planCase, order.value, seed, deadline, asJson)) : order;
  }
  const found = await searchUntil(deadline, planCase, seed, new Progress(io, clock));
  if (found === null) return ok(null);
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

/** When the seconds asked for are over, whatever they went into. */
class Deadline {
  readonly #atMs: number;
  readonly #clock: () => number;

  constructor(atMs: number, clock: () => number) {
    this.#atMs = atMs;
    this.#clock = clock;
  }

  get leftMs(): number {
    return Math.max(0, this.#atMs - this.#clock());
  }

  /** Ends when a share of what is left now is over. */
  share(share: number): TimedStop {
    return afterSeconds((this.leftMs * share) / 1000, this.#clock);
  }
}

/**
 * The best plan by the deadline, from as many threads as there are cores for where that pays; Ctrl-C then ends them, and
 * the best plan so far is the answer, null where there is none yet.
 */
async function searchUntil(
  deadline: Deadline,
  planCase: PlanCase,
  seed: number,
  progress: Progress,
): Promise<Plan | null> {
  if (deadline.leftMs < leastForThreadsMs) return await searchShortly(deadline, planCase, seed, progress);
  // Loading what threads need takes a tenth of a second, which a short search spends on searching.
  const { createPlanner } = await import("../plans/plannerPool.ts");
  const planner = createPlanner();
  const interrupt = new Interrupt();
  const proving = new Proving(planner, planCase, deadline.leftMs, (better) => progress.tell(better));
  let best: Plan | null = null;
  const found = await planner.search(planCase, {
    seed,
    seconds: deadline.leftMs / 1000,
    ...(proving.beginsLater && { othersSeconds: proving.beginsAfterMs / 1000 }),
    signal: interrupt.signal,
    onBetter: ({ plan }) => {
      best = plan;
      proving.hear(plan);
    },
  });
  interrupt.over();
  await Promise.all([planner.close(), proving.end()]);
  if (found.ok) return proving.about(found.value.plan);
  if (found.refusal.kind === "planner-failed") throw found.refusal.cause;
  return best === null ? null : proving.about(best);
}

/** The better plan of this thread and of one beside it, where there is a core for that and time for it to begin. */
async function searchShortly(
  deadline: Deadline,
  planCase: PlanCase,
  seed: number,
  progress: Progress,
): Promise<Plan> {
  const paysBeside = availableParallelism() > 1 && deadline.leftMs >= leastForBesideMs;
  const beside = paysBeside
    ? new SearchBeside({ planCase, seed: (seed + 1) % seeds, until: Date.now() + deadline.leftMs })
    : null;
  const stop = deadline.share(1);
  const own = findPlan(planCase, { seed, stop, onBetter: (better) => progress.tell(better) });
  const other = stop.isOver() ? await beside?.found(besideGraceMs) : await beside?.end();
  return other ? withBound(betterPlan(planCase, own, other), own.bound) : own;
}

/** Proves beside the search how good its plan is, where a core can be had for that: at once, or when a search leaves it. */
class Proving {
  readonly beginsLater: boolean;
  readonly beginsAfterMs: number;
  readonly #planner: Planner;
  readonly #planCase: PlanCase;
  /** Told the best plan with all that is proven about it, when either is new. */
  readonly #onNews: (plan: Plan) => void;
  readonly #begin: NodeJS.Timeout | undefined;
  #mayBegin: boolean;
  #best: Plan | null = null;
  #proof: Proof | null = null;
  #bound = 0;

  constructor(planner: Planner, planCase: PlanCase, leftMs: number, onNews: (plan: Plan) => void) {
    this.#planner = planner;
    this.#planCase = planCase;
    this.#onNews = onNews;
    this.#mayBegin = planner.proves === "beside-search";
    this.beginsLater = planner.proves === "after-search" && leftMs >= leastForProofMs;
    this.beginsAfterMs = leftMs * searchingShare;
    if (!this.beginsLater) return;
    this.#begin = setTimeout(() => {
      this.#mayBegin = true;
      this.#prove();
    }, this.beginsAfterMs);
  }

  /** A better plan was found. */
  hear(plan: Plan): void {
    this.#best = plan;
    this.#proof?.hear(plan.cost);
    this.#prove();
    this.#onNews(this.about(plan));
  }

  about(plan: Plan): Plan {
    return withBound(plan, this.#bound);
  }

  async end(): Promise<void> {
    clearTimeout(this.#begin);
    await this.#proof?.end();
  }

  #prove(): void {
    const best = this.#best;
    if (!this.#mayBegin || this.#proof !== null || best === null || isProvenBest(best)) return;
    this.#proof = this.#planner.prove(this.#planCase, best.cost, (bound) => {
      this.#bound = bound;
      this.#onNews(this.about(this.#best ?? best));
    });
  }
}

/** Hears Ctrl-C; a second one ends the program at once. */
class Interrupt {
  readonly #heard = new AbortController();
  readonly #hear = () => {
    if (this.signal.aborted) process.exit(interruptedCode);
    this.#heard.abort();
  };

  constructor() {
    process.on("SIGINT", this.#hear);
  }

  get signal(): AbortSignal {
    return this.#heard.signal;
  }

  over(): void {
    process.off("SIGINT", this.#hear);
  }
}

/** Tells on standard error how the plan gets better, not more often than one can read it. */
class Progress {
  readonly #io: Output;
  readonly #clock: () => number;
  readonly #begun: number;
  #told: number;

  constructor(io: Output, clock: () => number) {
    this.#io = io;
    this.#clock = clock;
    this.#begun = clock();
    this.#told = this.#begun;
  }

  tell({ cost, bound, handMinutes }: Plan): void {
    const now = this.#clock();
    if (now - this.#told < leastMsBetweenTold) return;
    this.#told = now;
    const seconds = ((now - this.#begun) / 1000).toFixed(1);
    this.#io.err(
      `${seconds} s: lateness ${rounded(cost)}, no plan below ${rounded(bound)}, ${rounded(handMinutes)} hand minutes`,
    );
  }
}

const leastMsBetweenTold = 500;

/** Half of the time goes into the plan, the rest into what more of each thing would save. */
function holdUps(planCase: PlanCase, seed: number, deadline: Deadline, asJson: boolean): string {
  const first = findPlan(planCase, { seed, stop: deadline.share(0.5) });
  const end = deadline.share(1);
  const effort = () => afterEffort(replanIterations, end);
  const answer = whatHoldsUp(planCase, { seed, plan: first, effort });
  return asJson ? JSON.stringify(answer, null, 2) : holdUpsText(answer);
}

/** Half of the time goes into the plan the accepted orders stand by, the rest into the date. */
function promised(
  planCase: PlanCase,
  { order, wished }: NewOrder,
  seed: number,
  deadline: Deadline,
  asJson: boolean,
): string {
  const current = findPlan(planCase, { seed, stop: deadline.share(0.5) });
  const answer = promise(planCase, order, { seed, plan: current, wished, stop: deadline.share(1) });
  if (!asJson) return promiseText(order.id, answer);
  const { earliest, instead } = answer;
  if (instead === null) return JSON.stringify({ earliest }, null, 2);
  const { piecesByWished, inTheWay } = instead;
  return JSON.stringify({ earliest, wished: instead.wished, piecesByWished, inTheWay }, null, 2);
}
