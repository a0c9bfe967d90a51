import type { Page } from "playwright-core";
import { beforeEach, describe, expect, it } from "vitest";
import { seriousViolations, sideways } from "../browser/asRead.ts";
import { usePage } from "../browser/page.ts";
import {
  insertBlend,
  insertCustomer,
  insertProduct,
  insertShape,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import { button, fill, heading, makeAccount, press, signIn } from "../journeys/hands.ts";

const stage = usePage({ viewport: { width: 360, height: 740 } });

describe("the owner and a shop, in the browser", { timeout: 240_000 }, () => {
  let isBegun = false;
  beforeEach(async () => {
    if (isBegun) await signIn(stage.page);
    else {
      await makeAccount(stage.page);
      await layOut();
    }
    isBegun = true;
  });

  for (const javaScriptEnabled of [true, false])
    it(`open a page, order by it, and find the draft ${javaScriptEnabled ? "with" : "without"} JavaScript`, async () => {
      const address = await openPage(stage.page);
      const shop = await stage.anotherPage({ javaScriptEnabled });
      shop.setDefaultTimeout(60_000);
      await shop.goto(address);
      expect(await heading(shop)).toMatch(/^What may we make for Three Left Boots\?/);
      const boxes = shop.locator("input[name=units]");
      await boxes.first().fill("7");
      await fill(shop, {
        "When do you need it": "2027-03-19",
        "What else should we know": "By the back door",
      });
      if (javaScriptEnabled) await shop.locator("#when p").waitFor({ timeout: 60_000 });
      else await press(shop, button(shop, "What does it come to, and when?"));
      expect(await shop.locator("#reckoning").textContent()).toContain("7 pieces");
      expect(await shop.locator("#when").textContent()).toMatch(/^We (?:can|will)/);
      await fitsAndReads(shop, javaScriptEnabled);
      await press(shop, button(shop, "Send the order"));
      expect(await shop.locator("li .mistake").textContent()).toBe("Sold in cases of 12: 12, not 7.");
      await boxes.first().fill("12");
      await press(shop, button(shop, "Send the order"));
      expect(await heading(shop)).toMatch(/waits for our answer\.$/);
      const reference = /^[A-Z0-9]{4}-[A-Z0-9]{4}/.exec(await heading(shop))?.[0];
      await fitsAndReads(shop, javaScriptEnabled);

      await stage.page.goto("/week");
      const waiting = stage.page.getByRole("heading", { name: /for your yes$/ });
      await waiting.waitFor();
      await stage.page.locator("section", { has: waiting }).getByRole("link").last().click();
      await stage.page
        .getByText(reference ?? "none")
        .first()
        .waitFor();
    });

  for (const javaScriptEnabled of [true, false])
    it(`take up a standing order and leave a date out ${javaScriptEnabled ? "with" : "without"} JavaScript`, async () => {
      const page = await stage.anotherPage({
        javaScriptEnabled,
        storageState: await stage.page.context().storageState(),
      });
      page.setDefaultTimeout(60_000);
      await page.goto("/orders/standing");
      await press(page, page.getByRole("link", { name: "Take up a standing order" }));
      await page.getByLabel("Shop", { exact: true }).selectOption({ label: "Three Left Boots" });
      await page.getByLabel("Tuesday").check();
      await fill(page, { "Every how many weeks": "2" });
      await page.locator("input[name=units]").first().fill("24");
      await fitsAndReads(page, javaScriptEnabled);
      await press(page, button(page, "Take it up"));
      expect(await heading(page)).toMatch(/^Three Left Boots wants 24 pieces every other week on Tuesday/);
      await press(page, button(page, /^Leave it out/).first());
      expect(await page.getByText("left out").count()).toBeGreaterThan(0);
      await fitsAndReads(page, javaScriptEnabled);
    });
});

/** A shop, a working week, two products with prices and cases. */
async function layOut(): Promise<void> {
  const { db, sql } = stage.application.database;
  await insertWorkshop(db);
  await insertWorkingWeek(db);
  await insertCustomer(db, { name: "Three Left Boots" });
  const shapeId = await insertShape(db);
  for (const [code, name] of [
    ["cedar-amber/ball-60", "Cedar ball"],
    ["oat-lavender/ball-60", "Oat ball"],
  ] as const)
    await insertProduct(db, {
      ...{ code, name, shapeId },
      blendId: await insertBlend(db, { code: code.split("/")[0] ?? code }),
    });
  await sql`insert into price_lists (name, kind, usual, includes_tax) values ('Wholesale', 'wholesale', true, false)`;
  await sql`insert into list_prices (price_list_id, product_id, unit_price_minor, valid_from)
    select price_lists.id, products.id, 250, '2027-01-01' from price_lists, products`;
  await sql`insert into case_packs (shape_id, units) select id, 12 from shapes`;
}

/** Makes the page of the shop Three Left Boots and returns its address. */
async function openPage(page: Page): Promise<string> {
  await page.goto("/setup/customers?q=Three+Left+Boots");
  await press(page, page.getByRole("link", { name: "Three Left Boots" }));
  await press(page, page.getByRole("link", { name: "Its order page" }));
  const renewing = page.getByText("Renew the address …");
  if ((await renewing.count()) > 0) await renewing.click();
  await press(page, button(page, /^(?:Make its order page|Yes, renew it)$/));
  await fitsAndReads(page);
  return new URL(await page.getByLabel("The address").inputValue()).pathname;
}

/** No wider than the screen, and nothing that keeps somebody from using it. */
async function fitsAndReads(page: Page, javaScriptEnabled = true): Promise<void> {
  expect(await sideways(page)).toBeLessThanOrEqual(0);
  expect(await seriousViolations(javaScriptEnabled ? page : await copyOf(page))).toEqual([]);
}

/** The page in a browser that runs what looks at it. */
async function copyOf(page: Page): Promise<Page> {
  const copy = await stage.anotherPage();
  await copy.goto("/sign-in");
  await copy.setContent(await page.content());
  return copy;
}
