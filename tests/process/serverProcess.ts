import { type ChildProcess, spawn } from "node:child_process";
import path from "node:path";
import { expect, inject, onTestFinished } from "vitest";
import { projectRoot } from "../../server/basics/projectRoot.ts";

interface StartOptions {
  /** Settings as environment variables; the port is any free one unless they say otherwise. */
  readonly settings?: Readonly<Record<string, string>>;
  /** Start it as another user; only root can. */
  readonly user?: { readonly uid: number; readonly gid: number };
  /** The program and its words, where it is not the compiled server. */
  readonly command?: readonly [string, ...string[]];
  readonly cwd?: string;
}

/** The server as a real process. */
export class ServerProcess {
  /** Of the process that was started; with npm in between that is npm. */
  readonly pid: number;
  /** How it ended, once it has: an exit code or the name of a signal. */
  readonly ended: Promise<number | string>;
  #output = "";
  #hasEnded = false;

  /** Starts it in a process group of its own; whatever is left of that is killed when the test is over. */
  constructor(options: StartOptions) {
    const command = options.command ?? ["node", inject("builtCommand"), "start"];
    const [program, ...words] = command;
    const child = spawn(program === "node" ? process.execPath : program, words, {
      ...options.user,
      cwd: options.cwd ?? projectRoot,
      env: { PATH: process.env.PATH, PORT: "0", ...options.settings },
      detached: true,
      stdio: ["ignore", "pipe", "pipe"],
    });
    if (child.pid === undefined) throw new Error(`${program} could not be started`);
    this.pid = child.pid;
    this.#collect(child);
    this.ended = new Promise((resolve) => {
      child.once("close", (code, signal) => {
        this.#hasEnded = true;
        resolve(code ?? signal ?? "unknown");
      });
    });
    onTestFinished(async () => {
      this.killGroup();
      await this.ended;
    });
  }

  /** Everything it has printed so far, to either stream. */
  get output(): string {
    return this.#output;
  }

  /** Resolves with the address it printed; throws, with its output, if it ends instead. */
  async ready(): Promise<string> {
    await until("the server is ready or has ended", () => /ready: open/.test(this.#output) || this.#hasEnded);
    const address = /ready: open (\S+) in/.exec(this.#output)?.[1];
    if (address === undefined) throw new Error(`The server ended (${await this.ended}): ${this.#output}`);
    return address;
  }

  signal(name: NodeJS.Signals): void {
    process.kill(this.pid, name);
  }

  /** To the whole process group, as Ctrl-C in a terminal does. */
  signalGroup(name: NodeJS.Signals): void {
    process.kill(-this.pid, name);
  }

  killGroup(): void {
    try {
      this.signalGroup("SIGKILL");
    } catch {
      // The group is empty already.
    }
  }

  #collect(child: ChildProcess): void {
    for (const stream of [child.stdout, child.stderr]) {
      stream?.setEncoding("utf8");
      stream?.on("data", (text: string) => {
        this.#output += text;
      });
    }
  }
}

/** Starts the server on a data folder with the built-in database and waits until it takes requests. */
export async function startOn(folder: string, options: StartOptions = {}): Promise<ServerProcess> {
  const server = new ServerProcess({ ...options, settings: { HALFMOLD_DATA: folder, ...options.settings } });
  await server.ready();
  return server;
}

/** Waits for a condition, looking every 20 ms; fails the test, saying which, after 110 seconds: a test has 120. */
export async function until(what: string, condition: () => boolean | Promise<boolean>): Promise<void> {
  await expect.poll(condition, { interval: 20, timeout: 110_000, message: what }).toBe(true);
}

/** Where a file of the project is. */
export function inProject(...parts: readonly string[]): string {
  return path.join(projectRoot, ...parts);
}
