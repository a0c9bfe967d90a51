import { execFileSync } from "node:child_process";
import { chmodSync, existsSync, mkdtempSync, readdirSync, readFileSync, readlinkSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import postgres, { type Sql } from "postgres";
import { inject, onTestFinished } from "vitest";
import { until } from "./serverProcess.ts";

/** A folder for the data of one test; gone after it, with every process that still works in it. */
export function newDataFolder(): string {
  const home = mkdtempSync(path.join(tmpdir(), "halfmold-process-"));
  // As root the database's user has to pass through.
  chmodSync(home, 0o711);
  const folder = path.join(home, "data");
  onTestFinished(async () => {
    await endAllIn(home);
    rmSync(home, { recursive: true });
  });
  return folder;
}

/** A data folder as an earlier start left it, its database made and its tables empty. */
export function usedDataFolder(): string {
  const folder = newDataFolder();
  // With owners and modes: the database's files belong to the user it ran as.
  execFileSync("cp", ["-Rp", inject("dataFolderTemplate"), folder]);
  return folder;
}

/** The process number of the Postgres that runs on the data, from its own pid file; undefined if none does. */
export function postgresPid(folder: string): number | undefined {
  const file = path.join(folder, "postgres", "postmaster.pid");
  if (!existsSync(file)) return undefined;
  const pid = Number(readFileSync(file, "utf8").split("\n")[0]);
  return isAlive(pid) ? pid : undefined;
}

/** Opens the data's database past the server, with the password and port that the server keeps beside it. */
export function openDatabase(folder: string): Sql {
  const kept = (name: string) => readFileSync(path.join(folder, name), "utf8").trim();
  const sql = postgres({
    host: "127.0.0.1",
    port: Number(kept("database-port")),
    username: "halfmold",
    password: kept("database-password"),
    database: "halfmold",
    max: 1,
    onnotice: () => {},
  });
  onTestFinished(() => sql.end({ timeout: 1 }));
  return sql;
}

interface Writer {
  /** Stops writing and returns the highest number whose writing Postgres acknowledged. */
  stop(): Promise<number>;
}

/** Writes 1, 2, 3, … into an empty table `written`, each in a transaction of its own, until it is stopped or cut off. */
export async function startWriting(folder: string): Promise<Writer> {
  const sql = openDatabase(folder);
  await sql`drop table if exists written`;
  await sql`create table written (n int primary key)`;
  let acknowledged = 0;
  let isStopped = false;
  const writing = (async () => {
    while (!isStopped) {
      await sql`insert into written values (${acknowledged + 1})`;
      acknowledged += 1;
    }
  })().catch(() => {});
  await until("some rows are acknowledged", () => acknowledged >= 50);
  return {
    stop: async () => {
      isStopped = true;
      await sql.end({ timeout: 1 });
      await writing;
      return acknowledged;
    },
  };
}

/** Which of the numbers from 1 to `last` are not in the table. */
export async function missingUpTo(folder: string, last: number): Promise<number[]> {
  const rows = await openDatabase(folder)<{ n: number }[]>`
    select n from generate_series(1, ${last}::int) as n where n not in (select n from written) order by n`;
  return rows.map((row) => row.n);
}

/** A process that has ended but was not yet waited for by its parent (state Z) counts as ended. */
export function isAlive(pid: number): boolean {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    return stat.slice(stat.lastIndexOf(")") + 2)[0] !== "Z";
  } catch {
    return false;
  }
}

/** The shell that waits for the server's end, found as the one process whose command line ends with the data's path. */
export function watchdogPid(folder: string): number | undefined {
  return allPids().find(
    (pid) =>
      commandLine(pid).at(0) === "/bin/sh" && commandLine(pid).at(-1) === path.join(folder, "postgres"),
  );
}

/** Who owns a process, as the system names it. */
export function ownerOf(pid: number): number {
  return Number(execFileSync("stat", ["-c", "%u", `/proc/${pid}`], { encoding: "utf8" }));
}

async function endAllIn(home: string): Promise<void> {
  const left = () =>
    allPids().filter((pid) => worksIn(pid, home) || commandLine(pid).some((word) => word.startsWith(home)));
  for (const pid of left()) {
    try {
      process.kill(pid, "SIGKILL");
    } catch {
      // It has just ended by itself.
    }
  }
  await until("nothing works in the data folder any more", () => left().length === 0);
}

function allPids(): number[] {
  return readdirSync("/proc")
    .map(Number)
    .filter((pid) => pid > 0 && pid !== process.pid);
}

function worksIn(pid: number, home: string): boolean {
  try {
    return readlinkSync(`/proc/${pid}/cwd`).startsWith(home);
  } catch {
    return false;
  }
}

function commandLine(pid: number): string[] {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, "utf8").split("\0").slice(0, -1);
  } catch {
    return [];
  }
}
