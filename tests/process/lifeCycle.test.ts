import { once } from "node:events";
import { readFileSync, statSync, writeFileSync } from "node:fs";
import { type AddressInfo, createServer } from "node:net";
import path from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import {
  isAlive,
  newDataFolder,
  openDatabase,
  postgresPid,
  usedDataFolder,
  watchdogPid,
} from "./dataFolder.ts";
import { ServerProcess, startOn, until } from "./serverProcess.ts";

describe("the server with its built-in database", () => {
  it("makes the database at first start, finds the same data at each later one, and stops both on every signal", async () => {
    const folder = newDataFolder();
    const first = await startOn(folder);
    await expectClosedToOthers(folder, first);
    await expectLettersBeyondAscii(folder);
    await openDatabase(folder)`create table note as select 'Tidepool & Thimble' as shop`;
    const port = readFileSync(path.join(folder, "database-port"), "utf8");
    await expectToStop(folder, first, "SIGTERM");

    for (const signal of ["SIGINT", "SIGHUP"] as const) {
      const later = await startOn(folder);
      await expectOneLine(later);
      expect(await openDatabase(folder)`select shop from note`).toEqual([{ shop: "Tidepool & Thimble" }]);
      expect(readFileSync(path.join(folder, "database-port"), "utf8")).toBe(port);
      await expectToStop(folder, later, signal);
    }
  });

  it("starts from its sources too", async () => {
    const command = ["node", "--import", "tsx", "server/cli/main.ts", "start"] as const;
    await expectOneLine(await startOn(usedDataFolder(), { command: [...command] }));
  });

  it("finishes the request at hand when Ctrl-C comes", async () => {
    const folder = usedDataFolder();
    const server = await startOn(folder);
    const address = await server.ready();
    const [holder, observer] = [openDatabase(folder), openDatabase(folder)];
    const answer = await holder.begin(async (transaction) => {
      await transaction`lock table people`;
      const asked = fetch(`${address}/welcome`).then((response) => response.status, String);
      await until("the request waits for the table", async () => {
        const waiting = await observer`select 1 from pg_locks where not granted`;
        return waiting.length > 0;
      });
      server.signalGroup("SIGINT");
      await until("the server takes no more requests", () =>
        fetch(`${address}/health`).then(
          () => false,
          () => true,
        ),
      );
      return { asked };
    });
    expect(await answer.asked).toBe(200);
    expect(await server.ended).toBe(0);
  });

  it("takes another port for the database when something else has taken the kept one", async () => {
    const folder = usedDataFolder();
    const kept = await listenElsewhere();
    writeFileSync(path.join(folder, "database-port"), String(kept), { mode: 0o600 });
    await startOn(folder);
    expect(Number(readFileSync(path.join(folder, "database-port"), "utf8"))).not.toBe(kept);
    expect(await openDatabase(folder)`select 1 as one`).toEqual([{ one: 1 }]);
  });

  it("stops its database again when the port it should listen on is taken, and says so in words", async () => {
    const port = String(await listenElsewhere());
    const folder = usedDataFolder();
    const server = new ServerProcess({ settings: { HALFMOLD_DATA: folder, PORT: port } });
    expect(await server.ended).toBe(1);
    expect(server.output).toBe(
      `Halfmold can't listen on 127.0.0.1, port ${port}: another program does already. Stop it, or choose another port with PORT.\n`,
    );
    expect(postgresPid(folder)).toBe(undefined);
  });
});

/** Data and secrets are kept from other users; the database listens on this machine only, with a password. */
async function expectClosedToOthers(folder: string, server: ServerProcess): Promise<void> {
  const mode = (name: string) => (statSync(path.join(folder, name)).mode & 0o777).toString(8);
  expect(mode("postgres")).toBe("700");
  for (const secret of ["database-password", "database-port", "session-secret", "database.log"]) {
    expect(`${secret} ${mode(secret)}`).toBe(`${secret} 600`);
  }
  const password = readFileSync(path.join(folder, "database-password"), "utf8").trim();
  expect(server.output).not.toContain(password);

  const sql = openDatabase(folder);
  const settings = await sql`
    select name, setting from pg_settings where name in ('listen_addresses', 'unix_socket_directories', 'fsync') order by name`;
  expect(settings.map((row) => `${row.name}=${row.setting}`)).toEqual([
    "fsync=on",
    "listen_addresses=127.0.0.1",
    "unix_socket_directories=",
  ]);
  const methods = await sql`select distinct auth_method from pg_hba_file_rules`;
  expect(methods.map((row) => row.auth_method)).toEqual(["scram-sha-256"]);
}

/** Letters beyond ASCII are folded and ordered. */
async function expectLettersBeyondAscii(folder: string): Promise<void> {
  const [row] = await openDatabase(folder)`
    select lower('ÄRGER') as lowered, 'Öl' ilike 'öL' as alike, 'Äpfel' < 'Zimt' as ordered`;
  expect(row).toEqual({ lowered: "ärger", alike: true, ordered: true });
}

/** It prints one line, which says where to go, and there it answers. */
async function expectOneLine(server: ServerProcess): Promise<void> {
  const address = await server.ready();
  expect(server.output).toBe(`Halfmold is ready: open ${address} in a browser. Ctrl-C stops it.\n`);
  expect((await fetch(`${address}/health`)).status).toBe(200);
}

/** Server, Postgres and watchdog end, and the first says that all is well. */
async function expectToStop(folder: string, server: ServerProcess, signal: NodeJS.Signals): Promise<void> {
  const postgres = postgresPid(folder) ?? 0;
  const watchdog = watchdogPid(folder) ?? 0;
  const log = path.join(folder, "database.log");
  const before = readFileSync(log, "utf8").length;
  // As a terminal or a service manager does it: to the whole group.
  server.signalGroup(signal);
  expect(await server.ended, signal).toBe(0);
  expect(isAlive(postgres), signal).toBe(false);
  await until(`the watchdog has gone home after ${signal}`, () => !isAlive(watchdog));
  expect(readFileSync(log, "utf8").slice(before), signal).toContain("database system is shut down");
}

/** Some other program that listens on this machine while the test runs; returns its port. */
async function listenElsewhere(): Promise<number> {
  const other = createServer().listen(0, "127.0.0.1");
  onTestFinished(() => {
    other.close();
  });
  await once(other, "listening");
  return (other.address() as AddressInfo).port;
}
