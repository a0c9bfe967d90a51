import path from "node:path";
import { drizzle } from "drizzle-orm/postgres-js";
import { migrate } from "drizzle-orm/postgres-js/migrator";
import postgres from "postgres";
import { projectRoot } from "../server/basics/projectRoot.ts";

/** Any number will do as long as every server takes the same one. */
const MIGRATION_LOCK = 7_135_812;

/**
 * Brings the database's tables to what this version of the code needs. Several servers may start at once: one migrates,
 * the others wait for it and then find nothing to do. The lock belongs to the session, hence the single connection.
 */
export async function migrateDatabase(url: string): Promise<void> {
  const client = postgres(url, { max: 1, onnotice: () => {} });
  try {
    await client`select pg_advisory_lock(${MIGRATION_LOCK})`;
    await migrate(drizzle(client), { migrationsFolder: path.join(projectRoot, "migrations") });
  } finally {
    await client.end({ timeout: 5 });
  }
}
