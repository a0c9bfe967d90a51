import { spawn } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import {
  isAlive,
  missingUpTo,
  ownerOf,
  postgresPid,
  startWriting,
  usedDataFolder,
  watchdogPid,
} from "./dataFolder.ts";
import { HttpVisitor } from "./httpVisitor.ts";
import { startOn, until } from "./serverProcess.ts";

describe("after a crash", () => {
  it("loses nothing that was acknowledged the moment before server and Postgres were killed at once", async () => {
    const folder = usedDataFolder();
    const server = await startOn(folder);
    const wren = { email: "wren@halfmold.example", password: "sea fennel and salt" };
    const visitor = new HttpVisitor(await server.ready());
    const writer = await startWriting(folder);
    const answer = await visitor.post("/welcome", "/welcome", { name: "Wren Oddfellow", ...wren });
    process.kill(postgresPid(folder) ?? 0, "SIGKILL");
    server.signal("SIGKILL");
    const last = await writer.stop();
    expect(answer.status).toBe(303);

    const again = new HttpVisitor(await (await startOn(folder)).ready());
    expect(await missingUpTo(folder, last)).toEqual([]);
    const signIn = (password: string) => again.post("/sign-in", "/sign-in", { ...wren, password, next: "" });
    expect((await signIn("not hers")).status).toBe(422);
    expect((await signIn(wren.password)).status).toBe(303);
  });

  it("starts Postgres again when that alone is killed, and loses nothing that was acknowledged", async () => {
    const folder = usedDataFolder();
    const server = await startOn(folder);
    const killed = postgresPid(folder) ?? 0;
    const writer = await startWriting(folder);
    process.kill(killed, "SIGKILL");
    await until("the server says so", () =>
      server.output.includes("ended (signal SIGKILL). Starting it again."),
    );
    const last = await writer.stop();
    await until("the server says that it runs again", () => server.output.includes("runs again"));

    expect(postgresPid(folder)).not.toBe(killed);
    expect(await missingUpTo(folder, last)).toEqual([]);
    const health = `${await server.ready()}/health`;
    await until("the server answers from its database again", async () => (await fetch(health)).ok);
    server.signal("SIGTERM");
    expect(await server.ended).toBe(0);
    expect(postgresPid(folder)).toBe(undefined);
  });

  it("gives up, and says so, when Postgres ends again and again", async () => {
    const folder = usedDataFolder();
    const server = await startOn(folder);
    const restarts = () => server.output.split("runs again").length - 1;
    for (let kills = 1; kills <= 6; kills += 1) {
      process.kill(postgresPid(folder) ?? 0, "SIGKILL");
      if (kills <= 5) await until(`it runs again after kill ${kills}`, () => restarts() === kills);
    }
    expect(await server.ended).toBe(1);
    expect(server.output).toContain(
      "The built-in database ended again and again. Halfmold stops; start it again.",
    );
    expect(postgresPid(folder)).toBe(undefined);
  });

  it("stops Postgres when the server is killed, at once or, where the watchdog was killed too, at the next start, and loses nothing", async () => {
    const folder = usedDataFolder();
    const first = await startOn(folder);
    const watched = postgresPid(folder) ?? 0;
    const firstWriter = await startWriting(folder);
    first.signal("SIGKILL");
    await until("Postgres has stopped", () => !isAlive(watched));
    const firstLast = await firstWriter.stop();

    const second = await startOn(folder);
    expect(await missingUpTo(folder, firstLast)).toEqual([]);
    const orphan = postgresPid(folder) ?? 0;
    const secondWriter = await startWriting(folder);
    process.kill(watchdogPid(folder) ?? 0, "SIGKILL");
    second.signal("SIGKILL");
    await second.ended;
    const secondLast = await secondWriter.stop();
    expect(isAlive(orphan)).toBe(true);

    const third = await startOn(folder);
    expect(third.output).toContain("An earlier server was cut off and left its database running");
    expect(isAlive(orphan)).toBe(false);
    expect(await missingUpTo(folder, secondLast)).toEqual([]);
  });

  it("is not misled by a pid file whose number belongs to another process by now", async () => {
    const folder = usedDataFolder();
    const first = await startOn(folder);
    const pidFile = path.join(folder, "postgres", "postmaster.pid");
    const stale = readFileSync(pidFile, "utf8");
    const uid = ownerOf(postgresPid(folder) ?? 0);
    first.signal("SIGTERM");
    await first.ended;
    // Of the same user, as Postgres ignores the processes of others.
    const stranger = spawn("sleep", ["60"], { uid, cwd: "/" });
    onTestFinished(() => {
      stranger.kill();
    });
    writeFileSync(pidFile, stale.replace(/^\d+/, String(stranger.pid)));

    await startOn(folder);
    expect(postgresPid(folder)).not.toBe(stranger.pid);
    expect(isAlive(stranger.pid ?? 0)).toBe(true);
  });
});
