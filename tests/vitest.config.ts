import path from "node:path";
import { defineConfig } from "vitest/config";
import { LongestFirst } from "./longestFirst.ts";
import { TotalsReporter } from "./totalsReporter.ts";

/** Folders whose tests need neither a database nor a process: they start at once. */
const ALONE = ["architecture", "basics", "bench", "planning", "proving", "timetable", "views"].map(
  (folder) => `tests/${folder}/**/*.test.{ts,tsx}`,
);

/** Tests that start the server as a process: it is built for them once. */
const PROCESSES = ["tests/process/**/*.test.ts", "tests/sample/demoCommand.test.ts"];

export default defineConfig({
  root: path.join(import.meta.dirname, ".."),
  test: {
    pool: "forks",
    maxWorkers: 2,
    // The files of a project that fall to one worker share its modules, which keep nothing (tests/architecture says so):
    // loading them anew for each file would take longer than most files' tests.
    isolate: false,
    sequence: { sequencer: LongestFirst },
    reporters: ["default", new TotalsReporter()],
    testTimeout: 120_000,
    hookTimeout: 60_000,
    // A condition that comes true is waited for no longer than that; a busy machine needs more than the usual second.
    expect: { poll: { timeout: 30_000 } },
    projects: [
      { extends: true, test: { name: "alone", include: ALONE } },
      {
        extends: true,
        test: {
          name: "database",
          include: ["tests/**/*.test.{ts,tsx}"],
          exclude: [...ALONE, ...PROCESSES],
          globalSetup: ["tests/db/postgresForTests.ts"],
        },
      },
      {
        extends: true,
        test: {
          name: "processes",
          include: PROCESSES,
          globalSetup: ["tests/db/postgresForTests.ts", "tests/process/builtServer.ts"],
        },
      },
    ],
  },
});
