import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect } from "vitest";
import type { Planner } from "../../server/plans/plannerPool.ts";
import { type TestApplication, useApplication } from "../build/application.ts";
import { findChromium, NO_CHROMIUM } from "./chromium.ts";

/** A real browser before a server that really listens, on a database of its own. */
interface BrowserStage {
  readonly application: TestApplication;
  /** New for each test, with cookies of its own; addresses such as "/week" are the server's. */
  readonly page: Page;
  /** Another person's browser beside it. */
  anotherPage(options?: BrowserContextOptions): Promise<Page>;
}

const FLAGS = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/**
 * Called once at the top of a test file; `options` are those of a playwright context, such as a viewport or
 * `javaScriptEnabled: false`. A test fails if a page of its throws, breaks the content policy or gets a 5xx. Without a
 * Chromium the tests are skipped and reported as not run, or fail where CI=true.
 */
export function usePage(options: BrowserContextOptions = {}, planner?: Planner): BrowserStage {
  const application = useApplication(planner);
  const executablePath = findChromium();
  const problems: string[] = [];
  let browser: Browser | undefined;
  let baseURL = "";
  let page: Page | undefined;

  const open = async (more: BrowserContextOptions = {}): Promise<Page> => {
    if (browser === undefined) throw new Error("The browser exists only from beforeAll on.");
    const context = await browser.newContext({ baseURL, ...options, ...more });
    // What comes is waited for no longer than that; the sample workshop takes a busy machine more than ten seconds.
    context.setDefaultTimeout(30_000);
    const opened = await context.newPage();
    collectProblems(opened, problems);
    return opened;
  };

  beforeAll(async () => {
    baseURL = await application.app.listen({ host: "127.0.0.1", port: 0 });
    if (executablePath !== undefined) browser = await chromium.launch({ executablePath, args: FLAGS });
  });
  beforeEach(async (context) => {
    if (executablePath === undefined) {
      if (process.env.CI === "true") throw new Error(`Not run, ${NO_CHROMIUM}`);
      context.skip(NO_CHROMIUM);
    }
    page = await open();
  });
  afterEach(async () => {
    for (const context of browser?.contexts() ?? []) await context.close();
    expect(problems.splice(0)).toEqual([]);
  });
  afterAll(async () => {
    await browser?.close();
  });

  return {
    application,
    get page() {
      if (page === undefined) throw new Error("The page exists only in a test.");
      return page;
    },
    anotherPage: open,
  };
}

function collectProblems(page: Page, problems: string[]): void {
  page.on("pageerror", (error) => problems.push(`${page.url()}: ${error.message}`));
  page.on("response", (response) => {
    if (response.status() >= 500) problems.push(`${response.url()}: answered ${response.status()}`);
  });
  page.on("console", (message) => {
    // A refused form is answered with a 4xx, which the browser notes here and the tests look at by themselves.
    const isAnswer = message.text().startsWith("Failed to load resource");
    if (message.type() === "error" && !isAnswer) problems.push(`${page.url()}: ${message.text()}`);
  });
}
