import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import {
  insertCustomer,
  insertOrder,
  insertProduct,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import { button, fill, makeAccount, press, signIn } from "../journeys/hands.ts";
import { usePage } from "./page.ts";

const stage = usePage({ viewport: { width: 360, height: 740 } });

/** 24 sets hold 47 balls, 40 of them promised for Wednesday; what is formed on Tuesday is there on Thursday. */
async function openBusyDesk(page: Page): Promise<void> {
  const { db, sql } = stage.application.database;
  await makeAccount(page);
  await insertWorkshop(db, { trays: 30, minBowlMilligrams: 0 });
  await insertWorkingWeek(db);
  await sql`update week_sessions set hand_minutes = 600`;
  const customerId = await insertCustomer(db, { name: "The Lamplit Otter" });
  const productId = await insertProduct(db, { code: "cedar-amber/ball-60", name: "Cedar ball" });
  await insertOrder(db, { customerId, shipBy: "2027-03-03", lines: [{ productId, units: 40 }] });
  await page.goto("/orders/new");
}

const advice = (page: Page) => page.locator("#promise-advice");

/** The first question of all waits until a planner's thread has started. */
const soon = (page: Page) => expect.poll(() => advice(page).textContent(), { timeout: 60_000 });

async function typeLine(page: Page, units: string): Promise<void> {
  await page.locator("select[name=product]").first().selectOption({ label: "Cedar ball" });
  await page.locator("input[name=units]").first().pressSequentially(units);
}

describe("on a phone, while an order is typed", () => {
  it("the safe date comes without a tap, follows what is typed, and never takes the keyboard away", async () => {
    const { page } = stage;
    await openBusyDesk(page);
    await typeLine(page, "7");
    await soon(page).toContain("Wednesday 3 March is the earliest safe date");
    await page.locator("input[name=units]").first().press("End");
    await page.locator("input[name=units]").first().pressSequentially("2");
    await soon(page).toContain("Friday 5 March is the earliest safe date");
    await fill(page, { "Ship by": "2027-03-03" });
    await soon(page).toContain("Wednesday 3 March can't be kept safely");
    await page.locator("input[name=units]").first().focus();
    await page.keyboard.press("End");
    await page.keyboard.type("0");
    await soon(page).toContain("of 720 pieces");
    expect(
      await page
        .locator("input[name=units]")
        .first()
        .evaluate((field) => field === document.activeElement),
    ).toBe(true);
    expect(await page.locator("input[name=units]").first().inputValue()).toBe("720");
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(360);

    await page.getByLabel("Customer").selectOption({ label: "The Lamplit Otter" });
    await press(page, button(page, "Confirm the order"));
    expect(await page.locator("main").textContent()).toContain("promised all the same by Wren Oddfellow");
  });
});

describe("without JavaScript", () => {
  it("the button answers on the page, and the form is as it was", async () => {
    const page = await stage.anotherPage({ javaScriptEnabled: false });
    await signIn(page);
    await page.goto("/orders/new");
    await fill(page, { "Ship by": "2027-03-03" });
    await page.locator("select[name=product]").first().selectOption({ label: "Cedar ball" });
    await page.locator("input[name=units]").first().fill("36");
    await press(page, button(page, "When can I promise it?"));
    expect(await advice(page).textContent()).toContain("can't be kept safely");
    expect(await page.locator("input[name=units]").first().inputValue()).toBe("36");
    expect(await page.getByLabel("Ship by").inputValue()).toBe("2027-03-03");
  });
});
