import { constants } from "node:os";

/** One who presses Ctrl-C again after so long is in a hurry; npm passes the first one on a second time at once. */
const IMPATIENT_AFTER_MS = 1000;
const LOOK_EVERY_MS = 250;

/** Settles once, with the exit code, when there is a reason to stop. */
export class EndOfRun {
  readonly reached: Promise<number>;
  #settle: (exitCode: number) => void = () => {};
  #heardAt: number | undefined;

  constructor() {
    this.reached = new Promise((resolve) => {
      this.#settle = resolve;
    });
    for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const)
      process.on(signal, () => this.#hear(signal));
    if (process.env.npm_lifecycle_event !== undefined) this.#followParent();
  }

  fail(reason: string): void {
    console.error(`${reason} Halfmold stops; start it again.`);
    this.#settle(1);
  }

  #hear(signal: NodeJS.Signals): void {
    this.#heardAt ??= Date.now();
    // By convention 128 and the signal's number, for one that was not waited for. The watchdog sees to the database.
    if (Date.now() - this.#heardAt > IMPATIENT_AFTER_MS) process.exit(128 + constants.signals[signal]);
    this.#settle(0);
  }

  /**
   * Whoever started the server with `npm start` knows npm's process only and ends that; npm's shell then goes without
   * passing a SIGTERM on, and the server would stay behind where nobody looks for it.
   */
  #followParent(): void {
    const parent = process.ppid;
    const look = setInterval(() => {
      if (process.ppid !== parent) this.#settle(0);
    }, LOOK_EVERY_MS);
    look.unref();
  }
}
