import { describe, expect, it } from "vitest";
import { ServerProcess } from "./serverProcess.ts";

describe("the command line", () => {
  it("lists its commands when asked, and when asked nothing, then as a mistake", async () => {
    const asked = command("--help");
    expect(await asked.ended).toBe(0);
    for (const name of ["start", "demo", "plan", "check-plan"])
      expect(asked.output).toMatch(new RegExp(`^  ${name} `, "m"));
    const silent = command();
    expect(await silent.ended).toBe(2);
    expect(silent.output).toBe(asked.output);
  });

  it("refuses a command it does not have, with the ones it has", async () => {
    const unknown = command("constructor");
    expect(await unknown.ended).toBe(2);
    expect(unknown.output).toMatch(/^There is no command "constructor"\.\n\nUsage: /);
  });

  it("refuses words that a command does not take", async () => {
    const start = command("start", "now");
    expect(await start.ended).toBe(2);
    expect(start.output).toBe('start takes no words, only settings; "now" is one.\n');
  });

  it("answers a case file that is not there in words, without a stack trace", async () => {
    const plan = command("plan", "/not/there.json");
    expect(await plan.ended).toBe(2);
    expect(plan.output).toContain("/not/there.json");
    expect(plan.output).not.toContain("    at ");
  });
});

function command(...words: readonly string[]): ServerProcess {
  return new ServerProcess({ command: ["node", "--import", "tsx", "server/cli/main.ts", ...words] });
}
