import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { usePage } from "../browser/page.ts";
import { insertCustomer, insertProduct, insertWorkshop } from "../build/rows.ts";
import { button, heading, makeAccount, press, signIn } from "../journeys/hands.ts";
import { ordersNow } from "./desk.ts";

const stage = usePage({ viewport: { width: 360, height: 740 } });

const cells = (reference: string, customer: string) =>
  [
    "order\tcustomer\tneeded_by\tship_by\tproduct\tunits\tprice\tnote",
    `${reference}\t${customer}\t8.3.2027\t5.3.2027\tCedar ball\t36\t2,40\tRing twice, a note that is long enough to need a second line`,
    `${reference}\t${customer}\t8.3.2027\t5.3.2027\tMoonmoss cube\t12\t\t`,
  ].join("\n");

async function fitsAPhone(page: Page): Promise<void> {
  expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(360);
}

/** From the import form over the questions and the preview to the list of orders. */
async function takePasted(page: Page, reference: string, customer: string): Promise<void> {
  await page.goto("/orders/import");
  await fitsAPhone(page);
  await page.getByLabel("Or the cells of a spreadsheet").fill(cells(reference, customer));
  await page.getByLabel("Day first, as in 5.3.2027 or 05/03/2027").check();
  await press(page, button(page, "Look at it"));
  expect(await heading(page)).toContain("2 names in what was pasted are not known here");
  await fitsAPhone(page);
  await page.getByLabel(`The customer “${customer}”`).selectOption({ label: "The Lamplit Otter" });
  await press(page, button(page, "Remember this and go on"));
  expect(await page.locator("main").textContent()).toContain("Choose what it means.");
  await page.getByLabel("The product “Moonmoss cube”").selectOption({ label: "Leave its lines out" });
  await press(page, button(page, "Remember this and go on"));
  expect(await heading(page)).toContain("what was pasted holds 1 new order with 36 pieces");
  await fitsAPhone(page);
  await press(page, button(page, "Take 1 order"));
  expect(await page.locator("main").textContent()).toContain(reference);
}

async function forgetMoonmoss(page: Page, left: string): Promise<void> {
  await page.goto("/orders/import/names");
  await fitsAPhone(page);
  await press(page, button(page, /^Forget “Moonmoss/));
  expect(await heading(page)).toContain(`What ${left} remembered`);
}

describe("on a phone", { timeout: 120_000 }, () => {
  it("cells of a spreadsheet become orders, once their unknown names are answered, and a name can be forgotten", async () => {
    const { page, application } = stage;
    await makeAccount(page);
    await insertWorkshop(application.database.db);
    await insertCustomer(application.database.db, { name: "The Lamplit Otter" });
    await insertProduct(application.database.db, { code: "cedar-amber/ball-60", name: "Cedar ball" });
    await takePasted(page, "W-301", "Lamplit Otter Ltd");
    await forgetMoonmoss(page, "1 name in files means is");
    expect(await ordersNow(application)).toEqual(["W-301 confirmed complete 2027-03-05: 36 Cedar ball"]);
  });

  it("the same way leads there without JavaScript", async () => {
    const page = await stage.anotherPage({ javaScriptEnabled: false });
    await signIn(page);
    await takePasted(page, "W-302", "The Otter at the Lamp");
    await forgetMoonmoss(page, "2 names in files mean is");
    expect(await ordersNow(stage.application)).toHaveLength(2);
  });

  it("a long file says how far it is while it is taken", async () => {
    const { page, application } = stage;
    await signIn(page);
    await page.goto("/orders/import");
    const lines = Array.from(
      { length: 300 },
      (_, line) => `L-${line},The Lamplit Otter,2027-03-05,Cedar ball,12`,
    );
    const file = ["order,customer,ship_by,product,units", ...lines].join("\r\n");
    await page.getByLabel("A CSV file of orders").setInputFiles({
      ...{ name: "long.csv", mimeType: "text/csv" },
      buffer: Buffer.from(file),
    });
    await press(page, button(page, "Look at it"));
    expect(await page.locator("main").textContent()).toContain("The first 200 of 300 orders are shown here");
    const watch = await page.locator("input[name=watch]").inputValue();
    const beside = await page.context().newPage();
    // Somebody else's transaction holds the table of lines; the file waits there, and whoever asks is told where.
    await application.database.sql.begin(async (gate) => {
      await gate`lock table order_lines in share mode`;
      // What the page is told asks again as soon as it stands there.
      const asksAgain = page.waitForRequest(/progress\?watch=[\w-]+&asked=2$/, { timeout: 60_000 });
      await button(page, "Take 300 orders").click({ noWaitAfter: true });
      await asksAgain;
      const told = async () => {
        await beside.goto(`/orders/import/progress?watch=${watch}&asked=600`);
        return beside.locator("main").textContent();
      };
      await expect.poll(told, { timeout: 60_000 }).toContain("Taking: 100 of 300 lines.");
    });
    await page.waitForURL("**/orders?taken=300");
    expect(await ordersNow(application)).toHaveLength(302);
  });
});
