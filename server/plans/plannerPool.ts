import { createRequire } from "node:module";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { Piscina } from "piscina";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { PlanCase } from "../planning/case.ts";
import type { PlanAnswer, PlanTask } from "./planWorker.ts";

/** Why there is no plan although the case is right. */
export type PlannerRefusal =
  /** The planner's thread ended or failed. */
  | { readonly kind: "planner-failed"; readonly cause: unknown }
  /** As many plans are waited for as the server takes on at once. */
  | { readonly kind: "planner-busy" }
  /** Whoever asked no longer waits. */
  | { readonly kind: "planning-stopped" };

/** Plans cases in threads of its own. */
export interface Planner {
  plan(
    planCase: PlanCase,
    options: { readonly seed: number; readonly signal?: AbortSignal },
  ): Promise<Result<PlanAnswer, PlannerRefusal>>;
  /** Ends the threads, also in the middle of a plan. */
  close(): Promise<void>;
}

interface PlannerOptions {
  /** Wall-clock time of a search; it stops earlier when the plan is proven best. */
  readonly searchSeconds?: number;
  /** Most wall-clock time for finding out what holds the workshop up. */
  readonly holdUpSeconds?: number;
  /** The thread's code; ours where left out. */
  readonly worker?: URL;
}

/** A plan uses one core whole; a second thread lets two people plan at once. Threads start when first needed. */
const THREADS = { minThreads: 0, maxThreads: 2, idleTimeout: 60_000 };

/** Plans that may wait for a thread; each takes a few seconds. */
const MOST_WAITING = 10;

export function createPlanner(options: PlannerOptions = {}): Planner {
  const { searchSeconds = 2, holdUpSeconds = 4, worker = ownWorker() } = options;
  const pool = new Piscina({
    ...THREADS,
    maxQueue: MOST_WAITING,
    filename: worker.href,
    name: "answerTask",
    execArgv: worker.pathname.endsWith(".ts") ? ["--import", typescriptLoader()] : [],
  });
  // A thread that ends between two plans is started anew by the next; without a listener it would end the server.
  pool.on("error", () => {});
  return {
    async plan(planCase, { seed, signal }) {
      if (pool.queueSize >= MOST_WAITING) return refuse({ kind: "planner-busy" });
      const task: PlanTask = { planCase, seed, searchSeconds, holdUpSeconds };
      try {
        const answer: PlanAnswer = await pool.run(task, signal ? { signal } : {});
        return ok(answer);
      } catch (cause) {
        return refuse(signal?.aborted ? { kind: "planning-stopped" } : { kind: "planner-failed", cause });
      }
    },
    close: () => pool.destroy(),
  };
}

/** Beside this file, compiled where this file is compiled. */
function ownWorker(): URL {
  return pathToFileURL(path.join(import.meta.dirname, `planWorker${path.extname(import.meta.filename)}`));
}

/** Found from here, not from the folder the server was started in. */
function typescriptLoader(): string {
  return pathToFileURL(createRequire(import.meta.filename).resolve("tsx")).href;
}
