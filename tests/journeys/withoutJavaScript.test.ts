import { describe, expect, it } from "vitest";
import { usePage } from "../browser/page.ts";
import { button, fill, heading, makeAccount, press, pressAll } from "./hands.ts";

const stage = usePage({ javaScriptEnabled: false });

describe("without JavaScript", { timeout: 120_000 }, () => {
  it("the same way leads from an order by hand over a plan and the bench to a doorstep", async () => {
    const { page } = stage;
    // The sample workshop is a good deal of work for a busy machine.
    page.setDefaultTimeout(60_000);
    const { clock, database } = stage.application;
    const { sql } = database;
    await makeAccount(page);
    await press(page, button(page, "Begin with the sample workshop"));

    await enterOrderOfFiveLines();
    expect(await heading(page)).toMatch(/^W-116 for Three Left Boots/);
    await press(page, page.getByRole("link", { name: "Plan", exact: true }));
    await press(page, button(page, "Plan now"));
    await press(page, button(page, "Accept this plan"));
    await mixAndPressFirstRun();
    expect(await sql`select 1 from runs where state = 'formed'`).toHaveLength(1);

    await packAndSend("W-101");
    clock.set("2027-03-02T09:00:00Z");
    await page.goto("/delivery");
    await press(page, button(page, "W-101 has arrived"));
    const [order] = await sql`select state from orders where reference = 'W-101'`;
    expect(order?.state).toBe("delivered");
    expect(
      await sql`select 1 from line_progress join orders on orders.id = order_id
      where reference = 'W-101' and ordered_units <> shipped_units`,
    ).toHaveLength(0);
  });
});

/** One line more than the form shows at first. */
async function enterOrderOfFiveLines(): Promise<void> {
  const { page } = stage;
  await press(page, page.getByRole("link", { name: "Orders", exact: true }));
  await press(page, page.getByRole("link", { name: "Enter an order" }));
  await page.getByLabel("Customer").selectOption({ label: "Three Left Boots" });
  await fill(page, { "Ship by": "2027-03-15" });
  const products = page.locator("select[name=product]");
  const units = page.locator("input[name=units]");
  while ((await products.count()) < 5) await press(page, button(page, "One more line"));
  for (const place of [0, 1, 2, 3, 4]) {
    await products.nth(place).selectOption({ index: place + 1 });
    await units.nth(place).fill(String(place + 2));
  }
  await press(page, button(page, "Confirm the order"));
  // Two pieces of what usually goes in larger cases are asked about once, not refused.
  await page.getByLabel("Meant so: take it all the same").check();
  await press(page, button(page, "Confirm the order"));
}

async function mixAndPressFirstRun(): Promise<void> {
  const { page } = stage;
  await press(page, page.getByRole("link", { name: "Bench", exact: true }));
  await press(page, button(page, "Start mixing").first());
  const record = page.getByRole("link", { name: /^Record / });
  while ((await record.count()) > 0) {
    await press(page, record.first());
    await fill(page, { "Pieces pressed": "12" });
    await press(page, button(page, "Pressed, now drying"));
  }
}

async function packAndSend(reference: string): Promise<void> {
  const { page } = stage;
  await press(page, page.getByRole("link", { name: "Packing", exact: true }));
  await press(page, page.getByRole("link", { name: reference }));
  await pressAll(page, /^Pack th/);
  await press(page, button(page, "Mark as packed"));
  await press(page, page.getByRole("link", { name: "Send it off" }));
  await press(page, button(page, `${reference} leaves now`));
}
