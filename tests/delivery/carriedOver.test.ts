import { readFileSync } from "node:fs";
import path from "node:path";
import postgres from "postgres";
import { expect, inject, it } from "vitest";
import { projectRoot } from "../../server/basics/projectRoot.ts";
import { databaseNamed } from "../db/databaseNamed.ts";

/** Migrations in their order, as they were generated: each file's name ends with what it is for. */
const journal = JSON.parse(readFileSync(path.join(projectRoot, "migrations/meta/_journal.json"), "utf8")) as {
  entries: readonly { tag: string }[];
};
const tags = journal.entries.map(({ tag }) => tag);
const PARCELS = tags.findIndex((tag) => tag.endsWith("_parcels"));

it("what was written down of carriers on deliveries becomes parcels, with carriers for the shop's list", async () => {
  const server = postgres(inject("postgresUrl"), { max: 1, onnotice: () => {} });
  await server`create database halfmold_before_parcels`;
  const sql = postgres(databaseNamed(inject("postgresUrl"), "halfmold_before_parcels"), {
    max: 1,
    onnotice: () => {},
  });
  try {
    for (const tag of tags.slice(0, PARCELS)) await run(sql, tag);
    // Rows as they stood, without all that they hang on.
    await sql`set session_replication_role = replica`;
    await sql`insert into deliveries (order_id, how, carrier, tracking, state, shipped_at) values
      (1, 'parcel', 'Slow Heron Post', 'SH 77', 'shipped', now()), (2, 'parcel', ' slow heron post', '', 'shipped', now()),
      (3, 'parcel', '', 'T 5', 'shipped', now()), (4, 'local-round', '', '', 'shipped', now())`;
    await sql`set session_replication_role = origin`;
    await run(sql, tags[PARCELS] ?? "");
    expect(await sql`select name from carriers`).toMatchObject([{ name: "slow heron post" }]);
    expect([
      ...(await sql`select delivery_id, carrier_id is not null as named, tracking from parcels order by id`),
    ]).toEqual([
      { delivery_id: 1, named: true, tracking: "SH 77" },
      { delivery_id: 2, named: true, tracking: "" },
      { delivery_id: 3, named: false, tracking: "T 5" },
    ]);
  } finally {
    await sql.end({ timeout: 5 });
    await server`drop database halfmold_before_parcels with (force)`;
    await server.end({ timeout: 5 });
  }
});

async function run(sql: postgres.Sql, tag: string): Promise<void> {
  const written = readFileSync(path.join(projectRoot, "migrations", `${tag}.sql`), "utf8");
  for (const statement of written.split("--> statement-breakpoint")) await sql.unsafe(statement);
}
