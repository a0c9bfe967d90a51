import type { Page } from "playwright-core";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { usePage } from "../browser/page.ts";
import { firstOwner } from "../build/application.ts";
import { insertOrder, insertProduct, insertReadyLot, insertWorkshop } from "../build/rows.ts";
import { button, press, signIn } from "../journeys/hands.ts";
import { emptyWorkroom, insertLamplitOtter } from "./workroom.ts";

const stage = usePage({ viewport: { width: 360, height: 740 } });
let orderId: number;

beforeAll(async () => {
  await firstOwner(stage.application);
  await insertWorkshop(stage.application.database.db);
});

/** W-104 wants 24 Cedar balls of lot K7Q, which has 30. */
beforeEach(async () => {
  const { database } = stage.application;
  await emptyWorkroom(database);
  const productId = await insertProduct(database.db, { name: "Cedar ball" });
  await insertReadyLot(database.db, { productId, units: 30 });
  const customerId = await insertLamplitOtter(database.db);
  ({ orderId } = await insertOrder(database.db, { customerId, lines: [{ productId, units: 24 }] }));
});

describe("two packers on the same order", () => {
  it("see each other's ticks without asking, and keep what they are typing", async () => {
    const [page, other] = await twoPackers();
    await lotField(other).fill("K7");
    await other.getByLabel("Pieces", { exact: true }).fill("4");
    await other.getByText("Take from a lot of your choice").click();
    await other.getByLabel("Take", { exact: true }).fill("3");
    await scan(page, "k7q", "10");
    await other.getByText("10 of 24 packed, 14 left").waitFor();
    await button(other, "Pack these 14 of Cedar ball").waitFor();
    expect(await other.locator("#last-packed").textContent()).toContain("packed 10 of lot K7Q, Cedar ball.");
    expect(await lotField(other).inputValue()).toBe("K7");
    expect(await other.getByLabel("Pieces", { exact: true }).inputValue()).toBe("4");
    expect(await other.getByLabel("Take", { exact: true }).inputValue()).toBe("3");
    expect(await focused(other)).toMatch(/^units-/);
    await press(other, button(other, "Pack these 14 of Cedar ball"));
    await page.getByText("24 of 24 packed").waitFor();
  });

  it("keep a refusal and what was typed while the other one goes on", async () => {
    const [page, other] = await twoPackers();
    await scan(page, "X9X");
    await page.getByText("No lot has the code X9X.").waitFor();
    await scan(other, "K7Q", "5");
    await page.getByText("5 of 24 packed, 19 left").waitFor();
    expect(await page.getByText("No lot has the code X9X.").isVisible()).toBe(true);
    expect(await lotField(page).inputValue()).toBe("X9X");
  });
});

describe("a scanner that types", () => {
  it("packs lot after lot without a tap, wherever the keyboard was", async () => {
    const page = await openOrder(stage.page);
    await button(page, /^Pack these/).focus();
    await page.keyboard.type("K7Q");
    expect(await lotField(page).inputValue()).toBe("K7Q");
    await page.getByLabel("Pieces", { exact: true }).fill("2");
    await lotField(page).press("Enter");
    await page.getByText("2 of 24 packed, 22 left").waitFor();
    // The news of it may come before the answer that empties the field.
    await expect.poll(() => lotField(page).inputValue()).toBe("");
    expect(await focused(page)).toBe("scanned-lot");
    await page.keyboard.type("K7Q");
    await page.keyboard.press("Enter");
    await page.getByText("24 of 24 packed").waitFor();
  });

  it("works where no script runs", async () => {
    const page = await openOrder(await stage.anotherPage({ javaScriptEnabled: false }));
    await scan(page, "K7Q", "2");
    await page.getByText("2 of 24 packed, 22 left").waitFor();
    expect(await lotField(page).getAttribute("autofocus")).not.toBeNull();
  });
});

async function twoPackers(): Promise<readonly [Page, Page]> {
  const page = await openOrder(stage.page);
  const other = await stage.anotherPage({ storageState: await page.context().storageState() });
  await other.goto(`/packing/${orderId}`);
  return [page, other];
}

async function openOrder(page: Page): Promise<Page> {
  await signIn(page);
  await page.goto(`/packing/${orderId}`);
  return page;
}

function lotField(page: Page) {
  return page.getByLabel("Lot, typed or scanned");
}

async function scan(page: Page, code: string, units = "") {
  await lotField(page).fill(code);
  await page.getByLabel("Pieces", { exact: true }).fill(units);
  await lotField(page).press("Enter");
}

function focused(page: Page) {
  return page.evaluate<string>("document.activeElement.id");
}
