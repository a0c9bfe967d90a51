import { readFile } from "node:fs/promises";
import path from "node:path";
import { drizzle } from "drizzle-orm/postgres-js";
import { migrate } from "drizzle-orm/postgres-js/migrator";
import postgres, { type Sql } from "postgres";
import { PlainFailure } from "../server/basics/plainFailure.ts";
import { projectRoot } from "../server/basics/projectRoot.ts";

/** Any number will do as long as every server takes the same one. */
const MIGRATION_LOCK = 7_135_812;

const FOLDER = path.join(projectRoot, "migrations");

/**
 * Brings the database's tables to what this version of the code needs. Several servers may start at once: one migrates,
 * the others wait for it and then find nothing to do. The lock belongs to the session, hence the single connection.
 * Throws PlainFailure, and changes nothing, if a newer version has been at the tables.
 */
export async function migrateDatabase(url: string): Promise<void> {
  const client = postgres(url, { max: 1, max_lifetime: null, onnotice: () => {} });
  try {
    await client`select pg_advisory_lock(${MIGRATION_LOCK})`;
    await refuseNewer(client);
    await migrate(drizzle(client), { migrationsFolder: FOLDER });
  } finally {
    await client.end({ timeout: 5 });
  }
}

/** Drizzle passes over migrations it does not know, and the code would then write to tables it does not know. */
async function refuseNewer(client: Sql): Promise<void> {
  const [table] = await client`select to_regclass('drizzle.__drizzle_migrations') is not null as there`;
  if (table?.there !== true) return;
  const [done] = await client`select max(created_at)::float8 as newest from drizzle.__drizzle_migrations`;
  const journal = JSON.parse(await readFile(path.join(FOLDER, "meta", "_journal.json"), "utf8")) as {
    entries: readonly { when: number }[];
  };
  const known = Math.max(...journal.entries.map((entry) => entry.when));
  if (Number(done?.newest) > known) {
    throw new PlainFailure(
      "The database was written by a newer version of Halfmold. Start that version, or restore a backup from before it.",
    );
  }
}
