import { execFile } from "node:child_process";
import { chown, mkdtemp, rename, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import { promisify } from "node:util";
import { PlainFailure } from "../../server/basics/plainFailure.ts";
import { type Binaries, bareEnvironment } from "./binaries.ts";
import { readIfThere } from "./ownerFile.ts";
import type { Place } from "./place.ts";
import { reasonOf } from "./systemError.ts";

/** The role that owns everything in the built-in database. */
export const ROLE = "halfmold";

/** How the name of a folder begins that a cluster is being made in. */
export const CLUSTER_DRAFT = "initdb-";

const run = promisify(execFile);

/**
 * Makes the cluster unless it is there: UTF-8, ordered and folded by ICU (the C locale alone lowers no umlaut), passwords
 * by SCRAM. It is made beside its place and moved there whole, so that a start that was cut off leaves no half cluster.
 */
export async function initialiseCluster(
  place: Place,
  binaries: Binaries,
  password: string,
  options: { readonly sync: boolean },
): Promise<void> {
  if (await isInitialised(place.cluster, binaries)) return;
  const draft = await mkdtemp(path.join(path.dirname(place.cluster), CLUSTER_DRAFT));
  try {
    const passwordFile = path.join(draft, "password");
    await writeFile(passwordFile, password, { mode: 0o600 });
    if (place.account !== undefined) {
      await chown(draft, place.account.uid, place.account.gid);
      await chown(passwordFile, place.account.uid, place.account.gid);
    }
    const made = path.join(draft, "cluster");
    const locale = ["--encoding=UTF8", "--locale=C", "--locale-provider=icu", "--icu-locale=und"];
    const access = [`--username=${ROLE}`, `--pwfile=${passwordFile}`, "--auth=scram-sha-256"];
    const speed = options.sync ? [] : ["--no-sync"];
    await run(binaries.initdb, [`--pgdata=${made}`, ...locale, ...access, ...speed], {
      ...place.account,
      env: bareEnvironment,
      cwd: "/",
    });
    await rename(made, place.cluster);
  } catch (error) {
    // Another server may have been quicker; then its cluster serves both.
    if (await isInitialised(place.cluster, binaries)) return;
    throw new PlainFailure(`The built-in database could not be made in ${place.cluster}: ${reasonOf(error)}`);
  } finally {
    await rm(draft, { recursive: true, force: true });
  }
}

async function isInitialised(cluster: string, binaries: Binaries): Promise<boolean> {
  const version = await readIfThere(path.join(cluster, "PG_VERSION"));
  if (version === undefined || version === binaries.major) return version !== undefined;
  throw new PlainFailure(
    `The data in ${cluster} was written by Postgres ${version}, and the built-in one is ${binaries.major}. ` +
      "Restore a backup into a new data folder, or run the version of Halfmold that wrote it.",
  );
}
