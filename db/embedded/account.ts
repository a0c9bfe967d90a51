import { execFile } from "node:child_process";
import { stat } from "node:fs/promises";
import path from "node:path";
import { promisify } from "node:util";
import { PlainFailure } from "../../server/basics/plainFailure.ts";

/** Whom Postgres runs as, when that is not whom the server runs as. */
export interface Account {
  readonly uid: number;
  readonly gid: number;
}

const run = promisify(execFile);

/**
 * Postgres refuses to run as root. A server started by root runs it as the owner of the data there is, else as
 * `postgres`, else as `nobody`; any other user runs it as itself (undefined).
 */
export async function databaseAccount(cluster: string): Promise<Account | undefined> {
  if (process.getuid?.() !== 0) return undefined;
  const owner = await stat(cluster).catch(() => undefined);
  if (owner !== undefined && owner.uid !== 0) return { uid: owner.uid, gid: owner.gid };
  const account = (await accountNamed("postgres")) ?? (await accountNamed("nobody"));
  if (account !== undefined) return account;
  throw new PlainFailure(
    "Postgres does not run as root, and this machine has neither a user postgres nor a user nobody. Start the server as an ordinary user.",
  );
}

/**
 * The first folder on the way to `folder`, itself included, that the account may not enter; undefined when it gets
 * there. The account itself tries, so that access lists and mounts count as well as the mode bits.
 */
export async function blockedAt(account: Account, folder: string): Promise<string | undefined> {
  if (await enters(account, folder)) return undefined;
  const parent = path.dirname(folder);
  return (parent === folder ? undefined : await blockedAt(account, parent)) ?? folder;
}

async function enters(account: Account, folder: string): Promise<boolean> {
  try {
    await run("/bin/sh", ["-c", 'cd -- "$0"', folder], { ...account, cwd: "/" });
    return true;
  } catch {
    return false;
  }
}

async function accountNamed(name: string): Promise<Account | undefined> {
  try {
    const [uid, gid] = await Promise.all([run("id", ["-u", name]), run("id", ["-g", name])]);
    return { uid: Number(uid.stdout), gid: Number(gid.stdout) };
  } catch {
    return undefined;
  }
}
