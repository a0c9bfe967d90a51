import type { Page } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import { seriousViolations, sideways } from "../browser/asRead.ts";
import { usePage } from "../browser/page.ts";
import { firstOwner } from "../build/application.ts";
import { button, heading, press, signIn } from "../journeys/hands.ts";

const stage = usePage({ viewport: { width: 360, height: 740 } });

beforeAll(async () => {
  const owner = await firstOwner(stage.application);
  await owner.post("/welcome/sample", {}, { from: "/welcome/workshop" });
});

describe("markets on a phone", { timeout: 240_000 }, () => {
  it("lead from the date to a crate list and to the count of what came home", async () => {
    await planAndCount(stage.page);
  });

  it("do so without JavaScript too", async () => {
    await planAndCount(await stage.anotherPage({ javaScriptEnabled: false }));
  });

  it("stand up to assistive technology and never scroll sideways", async () => {
    const { page } = stage;
    await signIn(page);
    for (const address of [
      "/markets",
      "/markets/8",
      "/markets/5",
      "/markets/5/count",
      "/markets/report",
      "/markets/new",
    ]) {
      await page.goto(address);
      expect([address, await seriousViolations(page)]).toEqual([address, []]);
      for (const width of [360, 1280]) {
        await page.setViewportSize({ width, height: 800 });
        expect([address, width, await sideways(page)]).toEqual([address, width, 0]);
      }
    }
  });
});

async function planAndCount(page: Page): Promise<void> {
  await signIn(page);
  await page.goto("/markets");
  await press(page, page.getByRole("link", { name: /^Plan it: Saturday market on Walrus Green/ }).first());
  await press(page, button(page, "Write it down"));
  expect(await heading(page)).toMatch(/^Saturday market on Walrus Green is in \d+ days: how much to take\?$/);
  const cedar = page.getByLabel("Cedar – Ball 60 mm", { exact: true });
  expect(Number(await cedar.inputValue())).toBeGreaterThan(0);
  await cedar.fill("7");
  await press(page, button(page, "Make this the crate list"));
  expect(await heading(page)).toMatch(/pieces on its crate list\.$/);
  expect(await page.getByLabel("Cedar – Ball 60 mm", { exact: true }).inputValue()).toBe("7");

  await page.goto("/markets/5/count");
  const sheet = page.getByRole("group", { name: /^Cedar – Ball 60 mm/ });
  await sheet.getByLabel("Came home").fill("99");
  await press(page, button(page, "Write the corrected count down"));
  expect(await sheet.textContent()).toContain("That is more than the 10 that were taken.");
  await sheet.getByLabel("Came home").fill("0");
  await sheet.getByLabel("Sold out at about").fill("13:20");
  await press(page, button(page, "Write the corrected count down"));
  expect(await heading(page)).toMatch(/ is counted\.$/);
  await page.goto("/markets/5");
  expect(await page.getByRole("row", { name: /Cedar – Ball 60 mm/ }).textContent()).toContain("13:20");
}
