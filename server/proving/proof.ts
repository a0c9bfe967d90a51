import { once } from "node:events";
import { MessageChannel } from "node:worker_threads";
import { Piscina } from "piscina";
import type { Result } from "../basics/result.ts";
import { argumentsFor, codeBeside } from "../basics/threadCode.ts";
import type { PlanCase } from "../planning/case.ts";
import type { TooLarge } from "./proveBound.ts";
import type { ProverTask } from "./proverThread.ts";

/** How a proof came to its end; the bounds told before hold in any case. */
export type ProofEnd =
  /** Nothing is left to prove. */
  | { readonly kind: "proven" }
  | TooLarge
  /** Whoever asked wants no more of it. */
  | { readonly kind: "called-off" }
  /** The solver's thread failed, as it does where memory is short. */
  | { readonly kind: "failed"; readonly cause: unknown };

/** A thread that has not heeded its call-off by then is in the middle of a long step; it is ended. */
const GRACE_MS = 40;

/**
 * Work on a proof of how good a plan can be, in a thread of its own. The solver's memory only ever grows, so no thread proves
 * twice: whatever it holds is given back when it ends. It is asked to end before it is made to: of a thread that is ended in
 * the middle of the solver some megabytes stay behind.
 */
export class Proof {
  /** Settles when the thread is gone. Never fails. */
  readonly ended: Promise<ProofEnd>;
  readonly #knownCost = new Float64Array(new SharedArrayBuffer(Float64Array.BYTES_PER_ELEMENT));
  readonly #threadEnd = new AbortController();
  #isCalledOff = false;

  /**
   * @param knownCost of the best plan known, in unit-days; the proof is at its end when the bound reaches it.
   * @param onBetter told every bound, in unit-days, that is higher than those before.
   */
  constructor(planCase: PlanCase, knownCost: number, onBetter: (bound: number) => void) {
    this.hear(knownCost);
    this.ended = this.#work(planCase, onBetter);
  }

  /** A plan of that cost is known, in unit-days; better than those before. */
  hear(knownCost: number): void {
    if (!this.#isCalledOff) this.#knownCost[0] = knownCost;
  }

  /** Ends the thread, in the middle of whatever it does; resolves when it is gone. */
  async end(): Promise<ProofEnd> {
    // Any bound reaches that, so the thread ends as soon as it looks.
    this.hear(Number.NEGATIVE_INFINITY);
    this.#isCalledOff = true;
    const grace = setTimeout(() => this.#threadEnd.abort(), GRACE_MS);
    const end = await this.ended;
    clearTimeout(grace);
    return end;
  }

  async #work(planCase: PlanCase, onBetter: (bound: number) => void): Promise<ProofEnd> {
    const pool = startThread();
    const { port1, port2 } = new MessageChannel();
    let highest = 0;
    const hearBound = (bound: number) => {
      if (bound <= highest) return;
      highest = bound;
      onBetter(bound);
    };
    port1.on("message", hearBound);
    const task: ProverTask = { planCase, knownCost: this.#knownCost, news: port2 };
    try {
      const options = { transferList: [port2], signal: this.#threadEnd.signal };
      const answer: Result<number, TooLarge> = await pool.run(task, options);
      if (!answer.ok) return answer.refusal;
      if (this.#isCalledOff) return { kind: "called-off" };
      // The answer may be here before the last news are.
      hearBound(answer.value);
      return { kind: "proven" };
    } catch (cause) {
      return this.#isCalledOff ? { kind: "called-off" } : { kind: "failed", cause };
    } finally {
      // A port is gone only some time after it was closed.
      const gone = once(port1, "close");
      port1.close();
      await Promise.all([gone, pool.destroy()]);
    }
  }
}

function startThread(): Piscina {
  const code = codeBeside(import.meta.filename, "proverThread");
  const pool = new Piscina({
    maxThreads: 1,
    filename: code.href,
    name: "proveForOthers",
    execArgv: argumentsFor(code),
  });
  // The task fails as well, and says why; without a listener it would end the server.
  pool.on("error", () => {});
  return pool;
}
