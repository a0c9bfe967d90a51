import { Worker } from "node:worker_threads";
import { codeBeside } from "../basics/threadCode.ts";
import type { PlanCase } from "../planning/case.ts";
import type { Plan } from "../planning/plan.ts";

/** One search in a thread that is started for it. */
export interface BesideTask {
  readonly planCase: PlanCase;
  readonly seed: number;
  /** When it is over, in milliseconds since 1970. */
  readonly until: number;
}

/**
 * A search in a thread of its own, for whoever searches in this thread meanwhile and hears no messages until then. A pool
 * would have to hear that its threads have started.
 */
export class SearchBeside {
  readonly #worker: Worker;
  readonly #plan: Promise<Plan>;

  constructor(task: BesideTask) {
    this.#worker = new Worker(threadCode(), { eval: true, workerData: task, execArgv: [] });
    this.#plan = new Promise((found, failed) => {
      this.#worker.once("message", found);
      this.#worker.once("error", failed);
    });
    // Whoever ends the search does not ask how it went.
    this.#plan.catch(() => {});
  }

  /** The plan it found; null where it takes longer than this. The thread has ended then, either way. */
  async found(mostMs: number): Promise<Plan | null> {
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<null>((resolve) => {
      timer = setTimeout(() => resolve(null), mostMs);
    });
    try {
      return await Promise.race([this.#plan, late]);
    } finally {
      clearTimeout(timer);
      await this.end();
    }
  }

  async end(): Promise<void> {
    await this.#worker.terminate();
  }
}

/** Loads what runs in the thread; where that is not compiled, first who understands it. */
function threadCode(): string {
  const code = codeBeside(import.meta.filename, "besideWorker");
  if (code.pathname.endsWith(".js")) return `import("${code.href}")`;
  return `import("${import.meta.resolve("tsx/esm/api")}").then((loader) => { loader.register(); return import("${code.href}"); })`;
}
