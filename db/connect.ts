import { drizzle, type PostgresJsDatabase } from "drizzle-orm/postgres-js";
import postgres, { type Sql } from "postgres";

/** The pool as the features see it. Columns are camelCase in TypeScript and snake_case in Postgres. */
export type Database = PostgresJsDatabase & {
  /** The driver itself, for what goes by no table, such as LISTEN. */
  readonly $client: Sql;
};

/** What a command writes through; see `inTransaction`. */
export type Transaction = Parameters<Parameters<Database["transaction"]>[0]>[0];

/** An open pool and the way to close it. `close` waits for running statements, at most five seconds. */
export interface Connection {
  readonly db: Database;
  close(): Promise<void>;
}

/**
 * Opens a pool of at most `connections` connections, made as they are needed; a lost connection is made anew by the
 * next statement, so a restart of the database costs the statements that ran in it and nothing else.
 */
export function connect(url: string, options: { readonly connections: number }): Connection {
  const client = postgres(url, {
    max: options.connections,
    onnotice: () => {},
    // The driver's own pauses grow to twenty seconds, in which every request would hang.
    backoff: (attempt) => Math.min(1, attempt / 10),
    connection: { application_name: "halfmold" },
  });
  return {
    db: drizzle(client, { casing: "snake_case" }),
    close: () => client.end({ timeout: 5 }),
  };
}
