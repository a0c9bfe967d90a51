import { readFileSync, statSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
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
  it("makes the database at first start and finds the same data at the second", async () => {
    const folder = newDataFolder();
    const first = await startOn(folder);
    await openDatabase(folder)`create table note as select 'Tidepool & Thimble' as shop`;
    first.signal("SIGTERM");
    await first.ended;

    await startOn(folder);
    expect(await openDatabase(folder)`select shop from note`).toEqual([{ shop: "Tidepool & Thimble" }]);
  });

  it.for([
    ["compiled", undefined],
    ["from its sources", ["node", "--import", "tsx", "server/cli/main.ts", "start"]],
  ] as const)(
    "prints one line, started %s, which says where to go, and there it answers",
    async ([, command]) => {
      const server = await startOn(usedDataFolder(), command && { command });
      const address = await server.ready();
      expect(server.output).toBe(`Halfmold is ready: open ${address} in a browser. Ctrl-C stops it.\n`);
      expect((await fetch(`${address}/health`)).status).toBe(200);
    },
  );

  it("keeps data and secrets from other users and listens on this machine only, with a password", async () => {
    const folder = newDataFolder();
    const server = await startOn(folder);
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
  });

  it("folds and orders letters beyond ASCII", async () => {
    const folder = usedDataFolder();
    await startOn(folder);
    const [row] = await openDatabase(folder)`
      select lower('ÄRGER') as lowered, 'Öl' ilike 'öL' as alike, 'Äpfel' < 'Zimt' as ordered`;
    expect(row).toEqual({ lowered: "ärger", alike: true, ordered: true });
  });

  it.for(["SIGTERM", "SIGINT", "SIGHUP"] as const)(
    "stops both on %s, and says that all is well",
    async (signal) => {
      const folder = usedDataFolder();
      const server = await startOn(folder);
      const postgres = postgresPid(folder) ?? 0;
      const watchdog = watchdogPid(folder) ?? 0;
      // As a terminal or a service manager does it: to the whole group.
      server.signalGroup(signal);
      expect(await server.ended).toBe(0);
      expect(isAlive(postgres)).toBe(false);
      await until("the watchdog has gone home", () => !isAlive(watchdog));
      expect(readFileSync(path.join(folder, "database.log"), "utf8")).toContain(
        "database system is shut down",
      );
    },
  );

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
    const first = await startOn(folder);
    first.signal("SIGTERM");
    await first.ended;
    const kept = Number(readFileSync(path.join(folder, "database-port"), "utf8"));
    const squatter = await startOn(usedDataFolder(), { settings: { PORT: String(kept) } });
    expect(await squatter.ready()).toContain(String(kept));

    await startOn(folder);
    expect(await openDatabase(folder)`select 1 as one`).toEqual([{ one: 1 }]);
  });

  it("stops its database again when the port it should listen on is taken, and says so in words", async () => {
    const port = new URL(await (await startOn(usedDataFolder())).ready()).port;
    const folder = usedDataFolder();
    const second = new ServerProcess({ settings: { HALFMOLD_DATA: folder, PORT: port } });
    expect(await second.ended).toBe(1);
    expect(second.output).toBe(
      `Halfmold can't listen on 127.0.0.1, port ${port}: another program does already. Stop it, or choose another port with PORT.\n`,
    );
    expect(postgresPid(folder)).toBe(undefined);
  });
});
