import { readFile } from "node:fs/promises";
import { parse } from "csv-parse/sync";
import type { Page } from "playwright-core";
import { beforeEach, describe, expect, it } from "vitest";
import { usePage } from "../browser/page.ts";
import {
  insertBlend,
  insertCustomer,
  insertOrder,
  insertProduct,
  insertShape,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import { button, fill, heading, makeAccount, press, signIn } from "../journeys/hands.ts";
import { ordersNow } from "./desk.ts";

/* Monday 1 March 2027; 24 sets hold 47 balls, and what is formed today is there on Wednesday. */
const stage = usePage({ viewport: { width: 360, height: 740 } });

const OTTER_ORDER = "W-1 confirmed complete 2027-03-03: 40 Cedar ball";
const HERON_ORDER = "W-2 confirmed complete 2027-03-05: 7 Oat ball, 12 Cedar ball";

let isBegun = false;
beforeEach(async () => {
  if (!isBegun) await layOut();
  isBegun = true;
  const { db, sql } = stage.application.database;
  await sql`truncate orders, changes restart identity cascade`;
  const [ids] = await sql`select
    (select id from customers where name like 'The Lamplit%') as otter, (select id from customers where name like 'Heron%') as heron,
    (select id from products where name = 'Cedar ball') as cedar, (select id from products where name = 'Oat ball') as oat`;
  const { otter, heron, cedar, oat } = ids ?? {};
  await insertOrder(db, {
    ...{ reference: "W-1", customerId: otter, shipBy: "2027-03-03", note: "Ring the bell" },
    lines: [{ productId: cedar, units: 40 }],
  });
  await insertOrder(db, {
    ...{ reference: "W-2", customerId: heron, shipBy: "2027-03-05" },
    lines: [
      { productId: oat, units: 7 },
      { productId: cedar, units: 12 },
    ],
  });
});

async function layOut(): Promise<void> {
  const { db, sql } = stage.application.database;
  await makeAccount(stage.page);
  await insertWorkshop(db, { trays: 30, minBowlMilligrams: 0 });
  await insertWorkingWeek(db);
  await sql`update week_sessions set hand_minutes = 600`;
  await insertCustomer(db, { name: "The Lamplit Otter" });
  await insertCustomer(db, { name: "Heron & Thimble" });
  const shapeId = await insertShape(db);
  for (const [blend, name] of [
    ["cedar-amber", "Cedar ball"],
    ["oat-lavender", "Oat ball"],
  ] as const)
    await insertProduct(db, {
      ...{ code: `${blend}/ball-60`, name, shapeId },
      blendId: await insertBlend(db, { code: blend }),
    });
}

const references = (page: Page) => page.locator(".orders .order-link").allTextContents();
const show = (page: Page) => button(page, "Show").click();

describe.each([
  { javaScriptEnabled: true, how: "with JavaScript" },
  { javaScriptEnabled: false, how: "without JavaScript" },
])("on a phone, $how", { timeout: 180_000 }, ({ javaScriptEnabled }) => {
  let page: Page;
  beforeEach(async () => {
    page = await stage.anotherPage({ javaScriptEnabled });
    page.setDefaultTimeout(60_000);
    await signIn(page);
    await page.goto("/orders");
  });

  it("orders are searched and narrowed, and the address brings the same list back", async () => {
    await page.getByLabel("Search", { exact: true }).fill("oat");
    await show(page);
    await page.waitForURL("**/orders?q=oat**");
    expect(await references(page)).toEqual(["W-2"]);
    await page.getByLabel("Search", { exact: true }).fill("ball");
    await page.getByText("By customer, blend, date or lateness").click();
    await page.getByLabel("Customer").selectOption({ label: "The Lamplit Otter" });
    await page.getByLabel("Ship by, up to").fill("2027-03-04");
    await show(page);
    await page.waitForURL(/customer=\d/);
    expect(await references(page)).toEqual(["W-1"]);
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(360);

    const kept = page.url();
    await page.getByRole("link", { name: "Show everything open" }).click();
    await page.waitForURL(/\/orders$/);
    expect(await references(page)).toEqual(["W-1", "W-2"]);
    await page.goto(kept);
    expect(await references(page)).toEqual(["W-1"]);
    expect(await page.getByLabel("Search", { exact: true }).inputValue()).toBe("ball");
    expect(await page.getByLabel("Ship by, up to").inputValue()).toBe("2027-03-04");
  });

  it("the list that stands there is taken home as a file", async () => {
    await page.goto("/orders?q=ring");
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("link", { name: "Save this list as CSV" }).click(),
    ]);
    expect(download.suggestedFilename()).toBe("orders-2027-03-01.csv");
    const file = await readFile(await download.path(), "utf8");
    expect(parse(file, { bom: true, columns: true })).toMatchObject([
      {
        order: "W-1",
        customer: "The Lamplit Otter",
        ship_by: "2027-03-03",
        pieces: "40",
        note: "Ring the bell",
      },
    ]);
  });

  it("an order is entered again from an older one", async () => {
    await press(page, page.getByRole("link", { name: "W-2" }));
    await press(page, page.getByRole("link", { name: "Order the same again" }));
    expect(await page.locator("main").textContent()).toContain(
      "Filled in from W-2; the date is still to be given.",
    );
    await fill(page, { "Ship by": "2027-03-12" });
    await press(page, button(page, "Confirm the order"));
    expect(await ordersNow(stage.application)).toContain(
      "W-003 confirmed complete 2027-03-12: 7 Oat ball, 12 Cedar ball",
    );
  });

  it("a confirmed order is changed after it was seen what that does to the others", async () => {
    await press(page, page.getByRole("link", { name: "W-2" }));
    await press(page, page.getByRole("link", { name: "Change it" }));
    await fill(page, { "Ship by": "2027-03-03" });
    await press(page, button(page, "See what it does, then save"));
    // 47 balls are there by Wednesday, and 59 are wanted now.
    expect(await heading(page)).toMatch(/^If W-2 changes so: .*later/);
    expect(await ordersNow(stage.application)).toEqual([OTTER_ORDER, HERON_ORDER]);
    await press(page, button(page, "Back to the form"));
    expect(await page.getByLabel("Ship by").inputValue()).toBe("2027-03-03");
    await fill(page, { "Ship by": "2027-03-04" });
    await press(page, button(page, "See what it does, then save"));
    expect(await heading(page)).toBe("If W-2 changes so: nobody else becomes later.");
    await press(page, button(page, "Save the change"));
    expect(await ordersNow(stage.application)).toEqual([OTTER_ORDER, HERON_ORDER.replace("05", "04")]);
    expect(await page.locator("main").textContent()).toContain("ship-by Fri 5 Mar → Thu 4 Mar");
  });

  it("a confirmed order is cancelled after it was seen what that does, and anew where that changed", async () => {
    await press(page, page.getByRole("link", { name: "W-1" }));
    await press(page, page.getByRole("link", { name: "Cancel the order …" }));
    expect(await heading(page)).toBe("If W-1 is cancelled: nobody else becomes later.");
    // Somebody else's promise changes while this page stands open.
    await stage.application.database.sql`update orders set ship_by = '2027-03-04' where reference = 'W-2'`;
    await press(page, button(page, "Yes, cancel W-1"));
    expect(await page.getByRole("alert").textContent()).toContain("something has changed since you looked");
    expect(await ordersNow(stage.application)).toContain(OTTER_ORDER);
    await press(page, button(page, "Yes, cancel W-1"));
    expect(await ordersNow(stage.application)).toContain(OTTER_ORDER.replace("confirmed", "cancelled"));
  });
});
