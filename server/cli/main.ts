import { PlainFailure } from "../basics/plainFailure.ts";
import type { Command } from "./command.ts";

interface Entry {
  readonly usage: string;
  readonly does: string;
  /** Imported only when it is asked for: a plan from a file must not load the database's driver. */
  load(): Promise<Command>;
}

const COMMANDS: Readonly<Record<string, Entry>> = {
  start: { usage: "start", does: "run the server until it is stopped", load: () => import("./start.ts") },
  demo: {
    usage: "demo",
    does: "run a server on the sample workshop, to try everything on and throw away",
    load: () => import("./demo.ts"),
  },
  plan: {
    usage: "plan CASE.json",
    does: "plan a case from a file, without any database (--json, --seconds S, --seed N, --what-holds-up, --promise ORDER.json)",
    load: () => import("./plan.ts"),
  },
  "check-plan": {
    usage: "check-plan CASE.json PLAN.json",
    does: "say whether a plan is allowed for a case",
    load: () => import("./check-plan.ts"),
  },
};

process.exitCode = await runCommand(process.argv.slice(2));

/** The exit code: 0 done, 1 could not be done, 2 asked wrongly. A stack trace is only ever shown for a bug of ours. */
async function runCommand([name, ...words]: readonly string[]): Promise<number> {
  if (name === undefined || name === "help" || name === "--help" || name === "-h") {
    console.log(usage());
    return name === undefined ? 2 : 0;
  }
  const entry = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (entry === undefined) {
    console.error(`There is no command "${name}".\n\n${usage()}`);
    return 2;
  }
  try {
    const command = await entry.load();
    return await command.run(words);
  } catch (error) {
    if (!(error instanceof PlainFailure)) throw error;
    console.error(error.message);
    return error.exitCode;
  }
}

function usage(): string {
  const width = Math.max(...Object.values(COMMANDS).map((entry) => entry.usage.length));
  const lines = Object.values(COMMANDS).map((entry) => `  ${entry.usage.padEnd(width)}  ${entry.does}`);
  return `Usage: halfmold COMMAND\n\n${lines.join("\n")}`;
}
