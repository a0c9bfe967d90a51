import { randomBytes } from "node:crypto";
import { access, chmod, constants, mkdir, readlink, realpath, stat, symlink } from "node:fs/promises";
import path from "node:path";
import { PlainFailure } from "../../server/basics/plainFailure.ts";
import { type Account, blockedAt, databaseAccount } from "./account.ts";
import { hasCode, reasonOf } from "./systemError.ts";

/** Where root's data goes when the project lies where the database's user may not go, such as below /root. */
const SYSTEM_FOLDER = "/var/lib/halfmold";

/** Where the built-in database keeps what it keeps, and who may touch it. */
export interface Place {
  /** The server's own files: password, port, log. */
  readonly folder: string;
  /** Postgres' data; its parent also holds what belongs to it. */
  readonly cluster: string;
  readonly account: Account | undefined;
}

export interface PlaceOptions {
  readonly folder: string;
  /** Whether somebody chose the folder. If so the data is there or nowhere. */
  readonly chosen: boolean;
  say(line: string): void;
}

/** Makes the data folder and settles where the cluster is or will be. Throws PlainFailure if it can't be reached. */
export async function findPlace(options: PlaceOptions): Promise<Place> {
  const folder = await makeFolder(options.folder);
  const link = path.join(folder, "postgres");
  const elsewhere = await linkTarget(link);
  const cluster = elsewhere ?? link;
  const account = await databaseAccount(cluster);
  if (account === undefined) {
    await requireOwn(cluster, folder);
    return { folder, cluster, account };
  }
  const blocked = await blockedAt(account, path.dirname(cluster));
  if (blocked === undefined) return { folder, cluster, account };
  const isBound = options.chosen || elsewhere !== undefined || (await exists(link));
  if (!isBound) return { folder, cluster: await placeElsewhere(link, blocked, options.say), account };
  throw new PlainFailure(
    `The database's data is to be in ${cluster}, but ${blocked} is not there or may not be entered by the user that Postgres runs as (it does not run as root). ` +
      `Set HALFMOLD_DATA to a folder it can reach, such as /srv/halfmold, or start the server as an ordinary user.`,
  );
}

async function makeFolder(wanted: string): Promise<string> {
  try {
    // Postgres' own user must be able to pass through the folder, not to list it.
    await mkdir(wanted, { recursive: true, mode: process.getuid?.() === 0 ? 0o711 : 0o700 });
    await access(wanted, constants.R_OK | constants.W_OK | constants.X_OK);
    return await realpath(wanted);
  } catch (error) {
    throw new PlainFailure(`The data folder ${wanted} can't be used: ${reasonOf(error)}.`);
  }
}

/** Postgres runs only as the owner of its data. */
async function requireOwn(cluster: string, folder: string): Promise<void> {
  const owner = (await stat(cluster).catch(() => undefined))?.uid;
  if (owner === undefined || owner === process.getuid?.()) return;
  throw new PlainFailure(
    `The data in ${folder} was made by another user (number ${owner}). Start the server as that user, or as root, or give it a folder of its own with HALFMOLD_DATA.`,
  );
}

async function placeElsewhere(link: string, blocked: string, say: (line: string) => void): Promise<string> {
  const home = path.join(SYSTEM_FOLDER, randomBytes(6).toString("hex"));
  await mkdir(home, { recursive: true });
  // Not by `mode` above: that is narrowed by the umask, and root's may keep everybody out.
  await chmod(SYSTEM_FOLDER, 0o711);
  await chmod(home, 0o711);
  const cluster = path.join(home, "postgres");
  await symlink(cluster, link);
  say(
    `Postgres does not run as root, and its own user may not enter ${blocked}: the data is kept in ${home}, and ${link} points there.`,
  );
  return cluster;
}

async function linkTarget(link: string): Promise<string | undefined> {
  try {
    return path.resolve(path.dirname(link), await readlink(link));
  } catch (error) {
    if (hasCode(error, "ENOENT") || hasCode(error, "EINVAL")) return undefined;
    throw error;
  }
}

async function exists(file: string): Promise<boolean> {
  return (await stat(file).catch(() => undefined)) !== undefined;
}
