import { describe, expect, it } from "vitest";
import { migrateDatabase } from "../../db/migrate.ts";
import { requirePostgres } from "../../db/requirePostgres.ts";
import { databaseNamed } from "./databaseNamed.ts";
import { useDatabase } from "./testDatabase.ts";

const database = useDatabase();

describe("migrateDatabase", () => {
  it("changes nothing in a database that is up to date", async () => {
    const done = () => database.sql`select hash from drizzle.__drizzle_migrations order by id`;
    const before = await done();
    expect(before).not.toHaveLength(0);
    await migrateDatabase(database.url);
    expect(await done()).toEqual(before);
  });

  it("waits for another server that is migrating", async () => {
    const holder = await database.sql.reserve();
    await holder`select pg_advisory_lock(7135812)`;
    let isDone = false;
    const migrating = migrateDatabase(database.url).then(() => {
      isDone = true;
    });
    await expect.poll(waiting, { timeout: 10_000 }).toBe(1);
    expect(isDone).toBe(false);
    await holder`select pg_advisory_unlock(7135812)`;
    holder.release();
    await migrating;
  });

  it("refuses a database that a newer version has written, and leaves it as it is", async () => {
    await database.sql`insert into drizzle.__drizzle_migrations (hash, created_at) values ('from later', 9999999999999)`;
    await expect(migrateDatabase(database.url)).rejects.toThrow("written by a newer version");
    await database.sql`delete from drizzle.__drizzle_migrations where hash = 'from later'`;
    await migrateDatabase(database.url);
  });
});

describe("requirePostgres", () => {
  it("is content with the database of the tests", async () => {
    await requirePostgres(database.url);
  });

  it("refuses a database that does not keep text as UTF-8", async () => {
    const name = `${new URL(database.url).pathname.slice(1)}_ascii`;
    await database.sql`
      create database ${database.sql(name)} template template0 encoding 'SQL_ASCII' locale_provider libc locale 'C'`;
    await expect(requirePostgres(databaseNamed(database.url, name))).rejects.toThrow(
      "keeps text as SQL_ASCII",
    );
    await database.sql`drop database ${database.sql(name)}`;
  });
});

/** How many sessions wait for an advisory lock in this database. */
async function waiting(): Promise<number> {
  const [row] = await database.sql<{ count: number }[]>`
    select count(*)::int as count from pg_locks join pg_database on pg_database.oid = pg_locks.database
    where locktype = 'advisory' and not granted and datname = current_database()`;
  return row?.count ?? 0;
}
