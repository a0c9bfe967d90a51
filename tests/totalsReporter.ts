import { writeFileSync } from "node:fs";
import type { Reporter, TestModule } from "vitest/node";

/**
 * Closes a run with what was not run and why, and with the totals alone on a line. Whatever went wrong outside a test
 * (a file that can't be loaded, an error nobody caught) counts as failed. The line also goes to the file TEST_TOTALS.
 */
export class TotalsReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const tests = modules.flatMap((module) => [...module.children.allTests()]);
    const count = (state: string) => tests.filter((test) => test.result().state === state).length;
    const brokenFiles = modules.filter((module) => module.errors().length > 0).length;

    const notes = new Map<string, number>();
    for (const test of tests) {
      const result = test.result();
      // Without a note it was left out by whoever chose the tests to run.
      if (result.state === "skipped" && result.note)
        notes.set(result.note, (notes.get(result.note) ?? 0) + 1);
    }
    for (const [note, notRun] of notes)
      console.log(banner(`NOT RUN: ${notRun} ${notRun === 1 ? "test" : "tests"}, ${note}`));

    const skipped = count("skipped");
    const totals = [
      `${count("passed")} passed`,
      `${count("failed") + brokenFiles + errors.length} failed`,
      ...(skipped > 0 ? [`${skipped} skipped`] : []),
    ].join(", ");
    console.log(`\n${totals}`);
    if (process.env.TEST_TOTALS) writeFileSync(process.env.TEST_TOTALS, `${totals}\n`);
  }
}

function banner(text: string): string {
  const rule = "!".repeat(100);
  return `\n${rule}\n${text}\n${rule}`;
}
