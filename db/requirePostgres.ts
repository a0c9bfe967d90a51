import postgres, { type Sql } from "postgres";
import { PlainFailure } from "../server/basics/plainFailure.ts";

/** The oldest release the SQL of this project is written for, as `server_version_num` counts. */
const OLDEST = 140_000;

/** Throws PlainFailure unless a Postgres 14 or newer that keeps text as UTF-8 answers at `url`. */
export async function requirePostgres(url: string): Promise<void> {
  const client = postgres(url, { max: 1, connect_timeout: 10, onnotice: () => {} });
  try {
    const server = await describe(client, url);
    if (server.number < OLDEST) {
      throw new PlainFailure(`The database is Postgres ${server.version}; Halfmold needs 14 or newer.`);
    }
    if (server.encoding !== "UTF8") {
      throw new PlainFailure(
        `The database keeps text as ${server.encoding}; Halfmold needs one made with UTF8.`,
      );
    }
  } finally {
    await client.end({ timeout: 5 });
  }
}

interface ServerDescription {
  readonly version: string;
  readonly number: number;
  readonly encoding: string;
}

async function describe(client: Sql, url: string): Promise<ServerDescription> {
  try {
    const [row] = await client<ServerDescription[]>`
      select current_setting('server_version') as version, current_setting('server_version_num')::int as number,
             current_setting('server_encoding') as encoding`;
    if (row === undefined) throw new Error("no answer");
    return row;
  } catch (error) {
    // Host and database only: the address holds the password.
    const { host, pathname } = new URL(url);
    const reason = error instanceof Error ? error.message || error.name : String(error);
    throw new PlainFailure(`The database ${pathname.slice(1)} at ${host} can't be used: ${reason}.`);
  }
}
