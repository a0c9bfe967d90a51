import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { parseArgs } from "node:util";
import { type Measured, withSections } from "./results.ts";
import type { Extent, Section } from "./sections/section.ts";
import { targets } from "./sections.ts";

const names = [...targets.values()].flat().map(({ name }) => name);
const usage = `Usage: npm run bench -- ${[...targets.keys()].join("|")} [--quick] [--only ${names.join(",")}] [--seeds N] [--out FILE]`;
const resultsFile = path.join(import.meta.dirname, "RESULTS.md");

process.exitCode = await run(process.argv.slice(2));

/** Measures the sections asked for, one after the other, and writes each into the results as soon as it is there. */
async function run(args: readonly string[]): Promise<number> {
  const asked = readWords(args);
  if (typeof asked === "string") {
    console.error(`${asked}\n${usage}`);
    return 2;
  }
  const command = ["npm run bench --", ...args].join(" ");
  for (const section of asked.chosen) {
    console.error(`${section.title} ...`);
    const measured = await measure(section, asked.extent, command);
    const earlier = existsSync(asked.file) ? readFileSync(asked.file, "utf8") : "";
    writeFileSync(asked.file, withSections(earlier, names, [measured]));
  }
  console.error(`written to ${path.relative(process.cwd(), asked.file)}`);
  return 0;
}

interface Asked {
  readonly extent: Extent;
  readonly chosen: readonly Section[];
  readonly file: string;
}

/** What the command line asks for, or what is wrong with it. */
function readWords(args: readonly string[]): Asked | string {
  const words = wordsOf(args);
  if (typeof words === "string") return words;
  const { values, positionals } = words;
  const sections = positionals.length === 1 ? targets.get(positionals[0] ?? "") : undefined;
  if (!sections) return `name what to measure: ${[...targets.keys()].join(" or ")}`;
  const only = values.only?.split(",") ?? names;
  const unknown = only.filter((name) => !names.includes(name));
  if (unknown.length > 0) return `no such section: ${unknown.join(", ")}`;
  const count = values.seeds ?? (values.quick ? "3" : "5");
  if (!/^[1-9]\d?$/.test(count)) return "--seeds takes a number from 1 to 99";
  return {
    extent: { quick: values.quick, seeds: Array.from({ length: Number(count) }, (_, at) => at + 1) },
    chosen: sections.filter(({ name }) => only.includes(name)),
    file: values.out ?? resultsFile,
  };
}

function wordsOf(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        quick: { type: "boolean", default: false },
        only: { type: "string" },
        seeds: { type: "string" },
        out: { type: "string" },
      },
    });
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

async function measure(section: Section, extent: Extent, command: string): Promise<Measured> {
  const date = new Date().toISOString().slice(0, 16).replace("T", " ");
  const coreShares: number[] = [];
  const table = await section.measure(extent, (share) => coreShares.push(share));
  const { name, title } = section;
  const circumstances = {
    date,
    commit: commit(),
    machine: machine(),
    command,
    seeds: extent.seeds,
    coreShares,
  };
  return { name, title, method: section.method(extent), circumstances, table };
}

function commit(): string {
  const git = (...args: string[]) => execFileSync("git", args, { encoding: "utf8" }).trim();
  try {
    const changed = git(
      "status",
      "--porcelain",
      "--",
      "server/planning",
      "server/proving",
      "tests/planning",
      "tests/bench/*.ts",
      "tests/bench/sections",
    );
    return `${git("rev-parse", "--short", "HEAD")}${changed === "" ? "" : " with changes not committed"}`;
  } catch {
    return "unknown";
  }
}

function machine(): string {
  const cores = os.cpus();
  const gigabytes = Math.round(os.totalmem() / 2 ** 30);
  return `${cores.length} x ${cores[0]?.model.trim() ?? "unknown"}, ${gigabytes} GB, Node ${process.versions.node}`;
}
