import { execFileSync } from "node:child_process";
import { chmodSync, chownSync, mkdirSync, statSync } from "node:fs";
import path from "node:path";
import { describe, expect, it, type TestContext } from "vitest";
import { newDataFolder, ownerOf, postgresPid, watchdogPid } from "./dataFolder.ts";
import { ServerProcess, startOn } from "./serverProcess.ts";

const NEEDS_ROOT = "as only root can start programs as other users. Run the tests as root to run them.";

describe("whom the built-in database runs as", () => {
  it("runs everything as the user who starts it, if that is not root, and goes on as that user when root takes over, and back", async () => {
    const { folder, user } = folderOfOrdinaryUser();
    for (const turn of user === undefined ? [{}] : [{ user }, {}, { user }]) {
      const server = await startOn(folder, turn);
      const owners = [postgresPid(folder) ?? 0, watchdogPid(folder) ?? 0].map(ownerOf);
      expect(new Set(owners)).toEqual(new Set([user?.uid ?? process.getuid?.()]));
      expect(ownerOf(server.pid)).toBe("user" in turn ? turn.user.uid : process.getuid?.());
      expect(statSync(folder).mode & 0o777).toBe(0o700);
      server.signal("SIGTERM");
      expect(await server.ended).toBe(0);
    }
  });

  it("runs as an unprivileged user when root starts the server, and leaves the data to no ordinary one", async (context) => {
    needsRoot(context);
    const folder = newDataFolder();
    const server = await startOn(folder);
    const owner = ownerOf(postgresPid(folder) ?? 0);
    expect(owner).not.toBe(0);
    expect(ownerOf(watchdogPid(folder) ?? 0)).toBe(owner);
    expect(ownerOf(server.pid)).toBe(0);
    expect(statSync(path.join(folder, "database-password")).uid).toBe(0);
    server.signal("SIGTERM");
    await server.ended;
    const others = new ServerProcess({ user: accountNamed("nobody"), settings: { HALFMOLD_DATA: folder } });
    expect(await others.ended).toBe(1);
    expect(others.output).toMatch(/^The data folder \S+ can't be used: EACCES: permission denied.*\n$/);
  });

  it("refuses a chosen folder that Postgres' own user can't reach, names where it gets stuck, and makes nothing", async (context) => {
    needsRoot(context);
    const home = path.dirname(newDataFolder());
    const closed = path.join(home, "closed");
    mkdirSync(closed);
    chmodSync(closed, 0o700);
    const server = new ServerProcess({ settings: { HALFMOLD_DATA: path.join(closed, "data") } });
    expect(await server.ended).toBe(1);
    expect(server.output).toContain(`but ${closed} is not there or may not be entered`);
    expect(server.output).toContain("Set HALFMOLD_DATA to a folder it can reach");
    expect(postgresPid(path.join(closed, "data"))).toBe(undefined);
  });
});

function needsRoot(context: TestContext): void {
  if (process.getuid?.() !== 0) context.skip(NEEDS_ROOT);
}

/** A data folder's place in a home of their own: nobody's when the tests run as root, else the tests' user's. */
function folderOfOrdinaryUser(): { folder: string; user?: { uid: number; gid: number } } {
  const folder = newDataFolder();
  if (process.getuid?.() !== 0) return { folder };
  const user = accountNamed("nobody");
  chownSync(path.dirname(folder), user.uid, user.gid);
  return { folder, user };
}

function accountNamed(name: string): { uid: number; gid: number } {
  const number = (flag: string) => Number(execFileSync("id", [flag, name], { encoding: "utf8" }));
  return { uid: number("-u"), gid: number("-g") };
}
