import type { Page } from "playwright-core";
import { beforeEach, describe, expect, it } from "vitest";
import { seriousViolations, sideways } from "../browser/asRead.ts";
import { usePage } from "../browser/page.ts";
import { button, fill, heading, makeAccount, openPlan, press, signInByForm } from "./hands.ts";

const PHONE = { width: 360, height: 740 };
const DESK = { width: 1280, height: 800 };

/** Far more kinds of pages than there are; where a page would lead on for ever the walk ends here. */
const MOST_KINDS = 200;

/* A page that throws, breaks the content policy or answers with a failure of the server fails its test by itself. */
const stage = usePage({ viewport: PHONE });

describe("the pages of the sample workshop", { timeout: 480_000 }, () => {
  let isBegun = false;
  beforeEach(async () => {
    if (isBegun) await signInByForm(stage.page);
    else await makeAccount(stage.page);
    isBegun = true;
  });

  it("can be begun with, planned and worked on by the keyboard alone", async () => {
    const { page } = stage;
    await byKeyboard(page, "Begin with the sample workshop");
    expect(await heading(page)).toMatch(/wait for a plan/);
    await byKeyboard(page, "Make a plan");
    await byKeyboard(page, "Plan now");
    await openPlan(page);
    await byKeyboard(page, "Accept this plan");
    await byKeyboard(page, "Bench");
    await byKeyboard(page, "Start mixing");
    const [mixing] = await stage.application.database.sql`
      select count(*)::integer as runs from runs where state = 'mixing'`;
    expect(mixing?.runs).toBe(1);
  });

  it("let the first press of Tab skip the navigation", async () => {
    const { page } = stage;
    await page.goto("/orders");
    await page.keyboard.press("Tab");
    expect(await page.evaluate("document.activeElement.getAttribute('href')")).toBe("#main");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Tab");
    expect(await page.evaluate("document.activeElement.closest('main') !== null")).toBe(true);
  });

  it("fit a phone and a desk, and stand up to assistive technology, each kind of page there is", async () => {
    const { page } = stage;
    const problems: string[] = [];
    const kinds = await everyKindOfPage(page, async (address) => {
      const found = [...(await seriousViolations(page)), ...(await sidewaysScroll(page))];
      problems.push(...found.map((problem) => `${address}: ${problem}`));
    });
    expect(problems).toEqual([]);
    // The walk itself must not come to nothing.
    expect(kinds.length).toBeGreaterThan(30);
  });

  it("keep every mistake on the page, for those who see it and those who hear it", async () => {
    const { page } = stage;
    await page.goto("/orders/new");
    await fill(page, { Note: "Kept as it was typed" });
    await press(page, button(page, /^Confirm/));
    expect(await page.getByLabel("Note", { exact: true }).inputValue()).toBe("Kept as it was typed");
    expect(await page.getByRole("alert").count()).toBeGreaterThan(0);
    expect(await seriousViolations(page)).toEqual([]);
    expect(await sidewaysScroll(page)).toEqual([]);
  });
});

/** Tabs to the link or button of that name and presses Enter, as without a mouse. */
async function byKeyboard(page: Page, name: string): Promise<void> {
  const focused = () => page.evaluate<string>("document.activeElement.textContent.trim()");
  for (let tabs = 0; (await focused()) !== name; tabs += 1) {
    if (tabs === 200) throw new Error(`Tab never comes to "${name}" on ${page.url()}`);
    await page.keyboard.press("Tab");
  }
  await press(page, { click: () => page.keyboard.press("Enter") });
}

/** Follows every link from page to page, looks at the first page of each kind, and returns the kinds. */
async function everyKindOfPage(
  page: Page,
  look: (address: string) => Promise<void>,
): Promise<readonly string[]> {
  const toVisit = ["/week"];
  const kinds = new Set(toVisit);
  for (let address = toVisit.shift(); address !== undefined; address = toVisit.shift()) {
    if (kinds.size > MOST_KINDS) throw new Error("There is no end of pages");
    const answer = await page.goto(address);
    if (answer?.headers()["content-type"]?.startsWith("text/html") !== true) continue;
    expect(answer.status(), address).toBe(200);
    await look(address);
    const links = await page
      .locator("a[href^='/']")
      .evaluateAll((all) => all.map((one) => one.getAttribute("href") ?? ""));
    for (const link of links) {
      const kind = link.replace(/[?#].*$/, "").replaceAll(/\d+/g, "1");
      // A sheet to take home is no page.
      if (kinds.has(kind) || /\.(csv|pdf)$/.test(kind)) continue;
      kinds.add(kind);
      toVisit.push(link);
    }
  }
  return [...kinds];
}

/** Looks at the page as on a desk and on a phone, and leaves it on the phone. */
async function sidewaysScroll(page: Page): Promise<readonly string[]> {
  const problems: string[] = [];
  for (const size of [DESK, PHONE]) {
    await page.setViewportSize(size);
    const over = await sideways(page);
    if (over > 0) problems.push(`${over} px too wide at ${size.width} px`);
  }
  return problems;
}
