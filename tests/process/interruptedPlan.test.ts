import { spawn } from "node:child_process";
import path from "node:path";
import { expect, it, onTestFinished } from "vitest";
import { projectRoot } from "../../server/basics/projectRoot.ts";
import { jsonOfFile } from "../planning/caseFiles.ts";
import { judge } from "../planning/independentChecker.ts";

it("a search that Ctrl-C ends prints the best plan it has and nothing else", async () => {
  const file = path.join(projectRoot, "tests", "planning", "cases", "week-3.json");
  const words = ["--import", "tsx", "server/cli/main.ts", "plan", file, "--seconds", "3600", "--json"];
  const command = spawn(process.execPath, words, { cwd: projectRoot, stdio: ["ignore", "pipe", "pipe"] });
  onTestFinished(() => {
    command.kill("SIGKILL");
  });
  let [out, told] = ["", ""];
  command.stdout.on("data", (chunk) => {
    out += chunk;
  });
  command.stderr.on("data", (chunk) => {
    told += chunk;
  });
  const ended = new Promise((resolve) => command.once("close", resolve));
  await expect.poll(() => told, { timeout: 60_000 }).toContain("lateness");
  command.kill("SIGINT");
  expect(await ended).toBe(0);
  expect(judge(jsonOfFile("week-3.json"), JSON.parse(out)).complaints).toEqual([]);
});
