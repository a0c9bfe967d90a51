import { execFile } from "node:child_process";
import { readlink, realpath, writeFile } from "node:fs/promises";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { promisify } from "node:util";
import { PlainFailure } from "../../server/basics/plainFailure.ts";
import { readIfThere } from "./ownerFile.ts";
import { takeOwnership } from "./ownership.ts";
import { hasCode } from "./systemError.ts";

const run = promisify(execFile);

/** How long a Postgres that is starting or stopping may take before we give up on it. */
const PATIENCE_SECONDS = 30;

/** No system numbers a process so high (Linux ends at 4194304). */
const NOBODYS_PID = 2_147_483_647;

/**
 * Makes sure that no Postgres runs on the cluster: waits for one that is on its way out, stops one whose server is gone,
 * and sees through a pid file whose number now belongs to some other process. Throws PlainFailure if another server
 * tends the cluster.
 */
export async function clearLeftover(
  cluster: string,
  urlAt: (port: number) => string,
  say: (line: string) => void,
): Promise<void> {
  const giveUp = Date.now() + PATIENCE_SECONDS * 1000;
  for (;;) {
    const found = await readPidFile(cluster);
    if (found === undefined || !isAlive(found.pid)) return;
    if (!(await isPostgresOf(cluster, found.pid))) return disown(cluster, found.pid);
    // A server that starts at this moment has Postgres running a little before it has taken the ownership.
    await pause(500);
    const outcome = await stopOrphan(cluster, found.pid, urlAt(found.port), say);
    if (outcome === "stopped") return;
    if (Date.now() > giveUp) {
      throw new PlainFailure(
        `Postgres (process ${found.pid}) holds the data in ${cluster} but does not answer. End it with: kill ${found.pid}`,
      );
    }
  }
}

async function stopOrphan(
  cluster: string,
  pid: number,
  url: string,
  say: (line: string) => void,
): Promise<"stopped" | "no answer"> {
  // Held until Postgres is gone, so that of several servers one does this.
  const ownership = await takeOwnership(url, () => {}).catch(() => undefined);
  if (ownership === undefined) return "no answer";
  if (ownership === "taken") {
    throw new PlainFailure(
      `Another Halfmold server already uses the data in ${path.dirname(cluster)}. Stop that one first, or give this one a folder of its own with HALFMOLD_DATA.`,
    );
  }
  say("An earlier server was cut off and left its database running; starting it afresh.");
  try {
    await endProcess(cluster, pid);
  } finally {
    await ownership.release();
  }
  return "stopped";
}

/** Postgres manual, "Shutting Down the Server": SIGINT is the fast shutdown, SIGQUIT the immediate one. */
async function endProcess(cluster: string, pid: number): Promise<void> {
  for (const signal of ["SIGINT", "SIGQUIT", "SIGKILL"] as const) {
    sendSignal(pid, signal);
    const giveUp = Date.now() + PATIENCE_SECONDS * 1000;
    while (Date.now() < giveUp) {
      if (!(await isPostgresOf(cluster, pid))) return;
      await pause(20);
    }
  }
}

function sendSignal(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(pid, signal);
  } catch (error) {
    if (!hasCode(error, "ESRCH")) throw error;
  }
}

/** Lines 1 and 4 of Postgres' pid file (src/include/utils/pidfile.h in its sources). */
async function readPidFile(cluster: string): Promise<{ pid: number; port: number } | undefined> {
  const text = await readIfThere(path.join(cluster, "postmaster.pid"));
  const lines = text?.split("\n") ?? [];
  const pid = Number(lines[0]);
  return pid > 0 ? { pid, port: Number(lines[3]) } : undefined;
}

/**
 * Postgres would take the living stranger for a Postgres and refuse to start. The rest of the file must stay: from it a
 * new Postgres finds out whether processes of a killed one are still at the data, and waits for them.
 */
async function disown(cluster: string, pid: number): Promise<void> {
  const file = path.join(cluster, "postmaster.pid");
  const text = (await readIfThere(file)) ?? "";
  if (text.startsWith(`${pid}\n`))
    await writeFile(file, `${text.replace(String(pid), String(NOBODYS_PID))}\n`);
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return hasCode(error, "EPERM");
  }
}

/** Postgres works in its data folder, so the kernel can tell whose process it is; elsewhere its command line can. */
async function isPostgresOf(cluster: string, pid: number): Promise<boolean> {
  try {
    if (process.platform === "linux")
      return (await readlink(`/proc/${pid}/cwd`)) === (await realpath(cluster));
    const { stdout } = await run("ps", ["-o", "command=", "-p", String(pid)]);
    return stdout.includes(cluster);
  } catch {
    return false;
  }
}
