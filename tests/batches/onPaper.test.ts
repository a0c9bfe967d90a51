import { beforeAll, describe, expect, it } from "vitest";
import { furnishByTheClock } from "../benchroom/clockRoom.ts";
import { usePage } from "../browser/page.ts";
import { firstOwner } from "../build/application.ts";
import { insertWorkshop } from "../build/rows.ts";
import { button, signIn } from "../journeys/hands.ts";
import { insertRecipe, insertSupply } from "../supplies/storeroom.ts";

const stage = usePage();

/** As many ingredients as a rich recipe has. */
const INGREDIENTS = [
  "soda",
  "filler",
  "surfactant",
  "colour",
  "oil",
  "scent",
  "solubiliser",
  "alcohol",
] as const;

beforeAll(async () => {
  await firstOwner(stage.application);
  const { db } = stage.application.database;
  await insertWorkshop(db);
  const { blendId } = await furnishByTheClock(db);
  const parts: Record<number, number> = {};
  for (const kind of INGREDIENTS) parts[await insertSupply(db, { name: `Some ${kind}`, kind })] = 100_000;
  parts[await insertSupply(db, { name: "Acid", kind: "acid" })] = 200_000;
  await insertRecipe(db, blendId, parts);
  stage.application.clock.set("2027-03-01T09:10:00Z");
});

describe("a batch sheet on paper", () => {
  it("is one page of A4, and one of letter", async () => {
    const { page } = stage;
    await signIn(page);
    await page.goto("/bench/runs/1/sheet");
    for (const format of ["A4", "Letter"]) {
      const paper = await page.pdf({ format, preferCSSPageSize: true });
      expect(pagesOf(paper), format).toBe(1);
    }
  });

  it("has boxes for the pen and none of the buttons", async () => {
    const { page } = stage;
    await signIn(page);
    await page.goto("/bench/runs/1/sheet");
    await page.emulateMedia({ media: "print" });
    expect(await page.getByText("Checked by").isVisible()).toBe(true);
    expect(await page.locator(".tick-paper").first().isVisible()).toBe(true);
    expect(await page.locator("main button:visible").count()).toBe(0);
  });
});

describe("a batch sheet on the phone", () => {
  it("keeps what is being typed while another one ticks, and shows the tick", async () => {
    const { page } = stage;
    await signIn(page);
    await page.goto("/bench");
    await button(page, "Start mixing").click();
    await button(page, "Mix is right, press it").waitFor();
    await page.goto("/bench/runs/1/sheet");
    const other = await stage.anotherPage({ storageState: await page.context().storageState() });
    await other.goto("/bench/runs/1/sheet");
    await page.getByLabel("Room, °C").fill("20.5");
    const tick = { name: "Some soda weighed for bowl 1" };
    await other.getByRole("button", tick).click();
    await expect
      .poll(() => page.getByRole("button", tick).getAttribute("aria-pressed"), { timeout: 1_500 })
      .toBe("true");
    expect(await page.getByLabel("Room, °C").inputValue()).toBe("20.5");
  });
});

/** Pages are objects of their own in a PDF (ISO 32000-1, 7.7.3.3). */
function pagesOf(paper: Buffer): number {
  return paper.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
}
