import { constants } from "node:os";
import type { ServerConfig } from "../config.ts";
import { type RunningServer, startServer } from "../main.ts";

/**
 * Runs the server until Ctrl-C, SIGTERM or the end of its terminal stops it; a second one stops it at once. Returns
 * the exit code, with everything stopped. `ready` is called once it takes requests.
 */
export async function serveUntilStopped(
  config: ServerConfig,
  ready: (server: RunningServer) => void,
): Promise<number> {
  const end = new EndOfRun();
  const server = await startServer(config, { say: console.error, lost: (reason) => end.fail(reason) });
  ready(server);
  cautionIfOpen(config);
  const exitCode = await end.reached;
  await server.stop();
  return exitCode;
}

/** Settles once, with the exit code, when there is a reason to stop. */
class EndOfRun {
  readonly reached: Promise<number>;
  #settle: (exitCode: number) => void = () => {};
  #isHeard = false;

  constructor() {
    this.reached = new Promise((resolve) => {
      this.#settle = resolve;
    });
    for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const)
      process.on(signal, () => this.#hear(signal));
  }

  fail(reason: string): void {
    console.error(`${reason} Halfmold stops; start it again.`);
    this.#settle(1);
  }

  #hear(signal: NodeJS.Signals): void {
    // By convention 128 and the signal's number, for one that was not waited for. The watchdog sees to the database.
    if (this.#isHeard) process.exit(128 + constants.signals[signal]);
    this.#isHeard = true;
    this.#settle(0);
  }
}

function cautionIfOpen(config: ServerConfig): void {
  const isLocal = config.host === "localhost" || config.host === "::1" || config.host.startsWith("127.");
  if (isLocal || config.secureCookies) return;
  console.error(
    "Caution: other machines can reach it, and without TLS in front passwords cross the network readably. Set SECURE_COOKIES=true once TLS is there.",
  );
}
