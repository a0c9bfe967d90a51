import { spawn } from "node:child_process";
import { existsSync, mkdirSync } from "node:fs";
import path from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { newDataFolder, openDatabase, usedDataFolder } from "./dataFolder.ts";
import { ServerProcess, startOn, until } from "./serverProcess.ts";

describe("two servers on one data folder", () => {
  it("leaves a data folder to the server that uses it, and says so, also after Postgres has thrown out the session that says whose it is", async () => {
    const folder = usedDataFolder();
    const first = await startOn(folder);
    const second = new ServerProcess({ settings: { HALFMOLD_DATA: folder } });
    expect(await second.ended).toBe(1);
    expect(second.output).toBe(
      `Another Halfmold server already uses the data in ${folder}. Stop that one first, or give this one a folder of its own with HALFMOLD_DATA.\n`,
    );
    expect((await fetch(`${await first.ready()}/health`)).status).toBe(200);

    const sql = openDatabase(folder);
    const owner = async () => {
      const [row] = await sql`
        select pid from pg_stat_activity join pg_locks using (pid) where application_name like '%owner of the data'`;
      return row?.pid;
    };
    const thrownOut = await owner();
    await sql`select pg_terminate_backend(${thrownOut})`;
    await until(
      "the server has taken the ownership again",
      async () => ![undefined, thrownOut].includes(await owner()),
    );
    const third = new ServerProcess({ settings: { HALFMOLD_DATA: folder } });
    expect(await third.ended).toBe(1);
    expect(third.output).toBe(second.output);
  });

  it("lets one of two servers run that make a new data folder at the same moment", async () => {
    const folder = newDataFolder();
    const both = [0, 1].map(() => new ServerProcess({ settings: { HALFMOLD_DATA: folder } }));
    const outcome = await Promise.allSettled(both.map((server) => server.ready()));
    expect(outcome.map((one) => one.status).sort()).toEqual(["fulfilled", "rejected"]);
    const loser = both[outcome.findIndex((one) => one.status === "rejected")];
    expect(loser?.output).toContain("Another Halfmold server already uses the data");
  });

  it("starts although another server is still making a cluster beside, and takes away what nobody works on", async () => {
    const folder = usedDataFolder();
    const inUse = path.join(folder, "initdb-in-use");
    const cutOff = path.join(folder, "initdb-cut-off");
    for (const draft of [inUse, cutOff]) mkdirSync(path.join(draft, "cluster"), { recursive: true });
    keepWritingIn(path.join(inUse, "cluster"));
    await startOn(folder);
    expect(existsSync(cutOff)).toBe(false);
  });
});

/** Makes the same few files anew, again and again, until the test is over or the folder is gone. */
function keepWritingIn(folder: string): void {
  const words = 'i=0; while : > "$0/$i"; do i=$(((i + 1) % 50)); done';
  const writer = spawn("sh", ["-c", words, folder], { stdio: "ignore" });
  onTestFinished(() => void writer.kill());
}
