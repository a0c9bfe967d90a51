import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const axe = readFileSync(createRequire(import.meta.filename).resolve("axe-core/axe.min.js"), "utf8");

interface Violation {
  readonly id: string;
  readonly impact: string | null;
  readonly nodes: readonly { readonly target: readonly string[] }[];
}

/**
 * What axe-core (WCAG 2.2 A and AA, and good practice) finds that keeps somebody from using the page. Style sheets and
 * media are not loaded for it: only its rules about sound that plays by itself, of which there is none, and about
 * turned screens, which it calls experimental and leaves out, would read them.
 */
export async function seriousViolations(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe);
  const violations = await page.evaluate<Violation[]>(
    "axe.run(document, { preload: false, resultTypes: ['violations'] }).then(({ violations }) => violations)",
  );
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, nodes }) => `${id} at ${nodes.map(({ target }) => target.join(" ")).join(", ")}`);
}

/** By how many pixels the page is wider than its window. */
export function sideways(page: Page): Promise<number> {
  return page.evaluate<number>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
}
