import { expect, it } from "vitest";
import { openDatabase, usedDataFolder } from "./dataFolder.ts";
import { HttpVisitor } from "./httpVisitor.ts";
import { startOn, until } from "./serverProcess.ts";

it("answers and goes on when Postgres ends a connection in the middle of a transaction", async () => {
  const folder = usedDataFolder();
  const server = await startOn(folder);
  const address = await server.ready();
  const [gate, admin] = [openDatabase(folder), openDatabase(folder)];
  const visitor = new HttpVisitor(address);
  const wren = { name: "Wren Oddfellow", email: "wren@halfmold.example", password: "sea fennel and salt" };

  await gate`begin`;
  await gate`lock table people in share row exclusive mode`;
  const cutOff = visitor.post("/welcome", "/welcome", wren);
  const waiting = () => admin`
    select pid from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'`;
  await until("the transaction waits", async () => (await waiting()).length === 1);
  await admin`select pg_terminate_backend(pid) from pg_stat_activity
    where datname = current_database() and wait_event_type = 'Lock'`;
  expect((await cutOff).status).toBe(500);
  await gate`commit`;

  expect(await admin`select 1 from people`).toHaveLength(0);
  expect((await visitor.post("/welcome", "/welcome", wren)).status).toBe(303);
  expect(await admin`select 1 from people`).toHaveLength(1);
});
