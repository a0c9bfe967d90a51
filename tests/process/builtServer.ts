import { execFile } from "node:child_process";
import { chmod, mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { promisify } from "node:util";
import type { TestProject } from "vitest/node";
import { startEmbedded } from "../../db/embedded/startEmbedded.ts";
import { migrateDatabase } from "../../db/migrate.ts";
import { projectRoot } from "../../server/basics/projectRoot.ts";

declare module "vitest" {
  export interface ProvidedContext {
    /** The compiled command line, as `npm start` runs it. */
    builtCommand: string;
    /** A data folder whose database is made, migrated and stopped; its tables are empty. */
    dataFolderTemplate: string;
  }
}

const run = promisify(execFile);

/** Runs once for all tests that start the server as a process: builds it, and makes the database most of them begin with. */
export async function setup(project: TestProject): Promise<() => Promise<void>> {
  const built = await build();
  const template = await makeDataFolder();
  project.provide("builtCommand", path.join(built, "server", "cli", "main.js"));
  project.provide("dataFolderTemplate", template);
  return async () => {
    await rm(built, { recursive: true });
    await rm(path.dirname(template), { recursive: true });
  };
}

/** Inside the project, where the compiled files find packages, migrations and styles. Types are checked elsewhere. */
async function build(): Promise<string> {
  const dist = path.join(projectRoot, "dist");
  await mkdir(dist, { recursive: true });
  const built = await mkdtemp(path.join(dist, "for-tests-"));
  // Some tests start it as another user.
  await chmod(built, 0o755);
  const compiler = path.join(projectRoot, "node_modules", ".bin", "tsc");
  const words = ["--project", "server/tsconfig.build.json", "--outDir", built];
  await run(compiler, [...words, "--noCheck", "--incremental", "false"], { cwd: projectRoot });
  return built;
}

async function makeDataFolder(): Promise<string> {
  const home = await mkdtemp(path.join(tmpdir(), "halfmold-template-"));
  await chmod(home, 0o711);
  const folder = path.join(home, "data");
  const database = await startEmbedded({ folder, chosen: true, say: console.info, lost: console.error });
  await migrateDatabase(database.url);
  await database.stop();
  // Servers that run at the same time each choose a port of their own.
  await rm(path.join(folder, "database-port"));
  return folder;
}
