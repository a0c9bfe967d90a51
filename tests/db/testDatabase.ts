import { randomBytes } from "node:crypto";
import postgres, { type Sql } from "postgres";
import { afterAll, beforeAll, inject } from "vitest";
import { type Connection, connect, type Database } from "../../db/connect.ts";
import { databaseNamed } from "./databaseNamed.ts";

/** A migrated, empty database of its own; usable from `beforeAll` on. */
export interface TestDatabase {
  /** As the application sees it, with up to ten connections. */
  readonly db: Database;
  /** Plain SQL on connections of its own, to look at rows or to hold a lock beside the application. */
  readonly sql: Sql;
  readonly url: string;
}

/** Called once at the top of a test file (or of a `describe`): clones the template before its tests, drops it after. */
export function useDatabase(): TestDatabase {
  let opened: { connection: Connection; sql: Sql; url: string } | undefined;
  const name = `halfmold_test_${randomBytes(6).toString("hex")}`;

  beforeAll(async () => {
    await onServer(
      (server) => server`create database ${server(name)} template ${server(inject("templateDatabase"))}`,
    );
    const url = databaseNamed(inject("postgresUrl"), name);
    opened = {
      connection: connect(url, { connections: 10 }),
      sql: postgres(url, { max: 5, onnotice: () => {} }),
      url,
    };
  });
  afterAll(async () => {
    await opened?.connection.close();
    await opened?.sql.end({ timeout: 5 });
    await onServer((server) => server`drop database ${server(name)} with (force)`);
  });

  const need = () => {
    if (opened === undefined) throw new Error("The test database exists only from beforeAll on.");
    return opened;
  };
  return {
    get db() {
      return need().connection.db;
    },
    get sql() {
      return need().sql;
    },
    get url() {
      return need().url;
    },
  };
}

async function onServer(work: (server: Sql) => Promise<unknown>): Promise<void> {
  const server = postgres(inject("postgresUrl"), { max: 1, onnotice: () => {} });
  try {
    await work(server);
  } finally {
    await server.end({ timeout: 5 });
  }
}
