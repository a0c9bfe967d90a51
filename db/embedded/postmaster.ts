import { type ChildProcess, spawn } from "node:child_process";
import { open, readFile, rename, stat } from "node:fs/promises";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { ok, type Result, refuse } from "../../server/basics/result.ts";
import { type Binaries, bareEnvironment } from "./binaries.ts";
import { giveToFolderOwner, readIfThere } from "./ownerFile.ts";
import type { Place } from "./place.ts";

/** A running Postgres that is our child. */
export interface Postmaster {
  readonly pid: number;
  /** Settles when the process has ended, with how: "exit code 1" or "signal SIGKILL". */
  readonly ended: Promise<string>;
  /** Ends sessions, writes everything down, ends. Harsher where that takes more than half a minute. */
  stop(): Promise<void>;
}

interface PostmasterOptions {
  readonly port: number;
  readonly log: string;
  /** Further Postgres settings by name. */
  readonly settings: Readonly<Record<string, string>>;
}

/** Starts Postgres and resolves once it takes connections, or with the reason, from its log, if it does not get there. */
export async function startPostmaster(
  place: Place,
  binaries: Binaries,
  options: PostmasterOptions,
): Promise<Result<Postmaster, string>> {
  await turnLog(options.log);
  const log = await open(options.log, "a", 0o600);
  await giveToFolderOwner(options.log);
  const logStart = (await log.stat()).size;
  // A session of its own: Ctrl-C in the terminal is for the server, which stops Postgres when it is done with it.
  const child = spawn(binaries.postgres, ["-D", place.cluster, ...settingArguments(options)], {
    ...place.account,
    env: bareEnvironment,
    cwd: "/",
    detached: true,
    stdio: ["ignore", log.fd, log.fd],
  });
  const ended = whenEnded(child);
  await log.close();
  const outcome = await Promise.race([ended, whenReady(child, place.cluster)]);
  if (outcome !== "ready" || child.pid === undefined) {
    const said = (await readFile(options.log)).subarray(logStart).toString().trim();
    return refuse(`${outcome}; ${said.slice(-2000)}`);
  }
  return ok({ pid: child.pid, ended, stop: () => stopChild(child, ended) });
}

/** Keeps the log from growing without end: a megabyte, and one older file. */
async function turnLog(file: string): Promise<void> {
  const size = (await stat(file).catch(() => undefined))?.size ?? 0;
  if (size > 1_000_000) await rename(file, `${file}.older`);
}

function settingArguments({ port, settings }: PostmasterOptions): string[] {
  const all = {
    listen_addresses: "127.0.0.1",
    port: String(port),
    unix_socket_directories: "",
    log_timezone: "UTC",
    timezone: "UTC",
    log_checkpoints: "off",
    ...settings,
  };
  return Object.entries(all).flatMap(([name, value]) => ["-c", `${name}=${value}`]);
}

function whenEnded(child: ChildProcess): Promise<string> {
  return new Promise((resolve) => {
    child.once("error", (error) => resolve(error.message));
    child.once("exit", (code, signal) => resolve(signal === null ? `exit code ${code}` : `signal ${signal}`));
  });
}

/** The eighth line of Postgres' pid file says how far it is (src/include/utils/pidfile.h in its sources). */
async function whenReady(child: ChildProcess, cluster: string): Promise<"ready"> {
  while (child.exitCode === null && child.signalCode === null) {
    const lines = (await readIfThere(path.join(cluster, "postmaster.pid")))?.split("\n") ?? [];
    if (lines[0] === String(child.pid) && lines[7]?.trim() === "ready") return "ready";
    await pause(10);
  }
  // It ended; the race is settled by that.
  return new Promise(() => {});
}

/** Postgres manual, "Shutting Down the Server": SIGINT fast, SIGQUIT immediate. SIGKILL is for what hears neither. */
async function stopChild(child: ChildProcess, ended: Promise<string>): Promise<void> {
  const harsher = [
    { signal: "SIGINT", seconds: 30 },
    { signal: "SIGQUIT", seconds: 5 },
    { signal: "SIGKILL", seconds: 5 },
  ] as const;
  for (const { signal, seconds } of harsher) {
    child.kill(signal);
    const patience = new AbortController();
    const late = pause(seconds * 1000, "late", { signal: patience.signal }).catch(() => "late");
    const outcome = await Promise.race([ended, late]);
    patience.abort();
    if (outcome !== "late") return;
  }
}
