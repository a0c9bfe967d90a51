import { constants } from "node:os";
import { PlainFailure } from "../basics/plainFailure.ts";
import { readConfig, type ServerConfig } from "../config.ts";
import { startServer } from "../main.ts";

/** Runs the server until Ctrl-C, SIGTERM or the end of its terminal stops it; a second one stops it at once. */
export async function run(words: readonly string[]): Promise<number> {
  if (words.length > 0)
    throw new PlainFailure(`start takes no words, only settings; "${words[0]}" is one.`, 2);
  const config = readConfig(process.env);
  if (!config.ok) throw new PlainFailure(["The settings are wrong:", ...config.refusal].join("\n  "), 2);

  const end = new EndOfRun();
  const server = await startServer(config.value, { say: console.error, lost: (reason) => end.fail(reason) });
  console.log(`Halfmold is ready: open ${server.address} in a browser. Ctrl-C stops it.`);
  cautionIfOpen(config.value);
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
