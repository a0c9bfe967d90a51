import { readdir, rm } from "node:fs/promises";
import path from "node:path";
import postgres from "postgres";
import { COPY_DRAFT, usableBinaries } from "./binaries.ts";
import { CLUSTER_DRAFT, initialiseCluster } from "./initialise.ts";
import { Keeper } from "./keeper.ts";
import { newSecret, readOrMake } from "./ownerFile.ts";
import { findPlace, type PlaceOptions } from "./place.ts";
import { hasCode } from "./systemError.ts";
import { type Cluster, databaseUrl } from "./tend.ts";

interface EmbeddedOptions extends PlaceOptions {
  /** Further Postgres settings by name; none in production, where the defaults keep what was acknowledged. */
  readonly settings?: Readonly<Record<string, string>>;
  /** Called, with the reason in words, when the database is gone for good while it should be running. */
  lost(reason: string): void;
}

/** A database of our own: where it answers, and how to stop it. */
interface EmbeddedDatabase {
  readonly url: string;
  stop(): Promise<void>;
}

/** The database that holds the workshop; `postgres`, which every cluster has, is for housekeeping. */
const DATABASE = "halfmold";

/**
 * Starts the Postgres that comes with the project and keeps it running: after a crash it is started again, with the
 * server it stops, be that orderly or by a kill. Throws PlainFailure with a sentence on what stands in the way.
 */
export async function startEmbedded(options: EmbeddedOptions): Promise<EmbeddedDatabase> {
  const cluster = await prepareCluster(options);
  const keeper = new Keeper(cluster, options.lost);
  const port = await keeper.start();
  await removeDrafts(path.dirname(cluster.place.cluster));
  await makeDatabase(databaseUrl(cluster, port, "postgres"));
  return { url: databaseUrl(cluster, port, DATABASE), stop: () => keeper.stop() };
}

async function prepareCluster(options: EmbeddedOptions): Promise<Cluster> {
  const settings = options.settings ?? {};
  const place = await findPlace(options);
  const binaries = await usableBinaries(place);
  const password = await readOrMake(path.join(place.folder, "database-password"), newSecret);
  await initialiseCluster(place, binaries, password, { sync: settings.fsync !== "off" });
  const usurped = () => options.lost(`Another server took over the data in ${place.folder}.`);
  return { place, binaries, password, settings, say: options.say, usurped };
}

/**
 * What a start that was cut off left half made. Where something is still being written, another server has started at
 * the same moment and will find that this one was quicker: what it leaves is for the next start.
 */
async function removeDrafts(home: string): Promise<void> {
  for (const name of await readdir(home)) {
    const isDraft = [CLUSTER_DRAFT, COPY_DRAFT].some((beginning) => name.startsWith(beginning));
    if (isDraft) await removeUnlessInUse(path.join(home, name));
  }
}

async function removeUnlessInUse(draft: string): Promise<void> {
  try {
    await rm(draft, { recursive: true, force: true });
  } catch (error) {
    if (!hasCode(error, "ENOTEMPTY")) throw error;
  }
}

async function makeDatabase(url: string): Promise<void> {
  const client = postgres(url, { max: 1, onnotice: () => {} });
  try {
    const [there] = await client`select 1 from pg_database where datname = ${DATABASE}`;
    if (there === undefined) await client`create database ${client(DATABASE)}`;
  } finally {
    await client.end({ timeout: 5 });
  }
}
