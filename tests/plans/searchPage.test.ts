import { rmSync, writeFileSync } from "node:fs";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { usePage } from "../browser/page.ts";
import { button, heading, makeAccount, openPlan, press, signIn } from "../journeys/hands.ts";
import { betterFile, endFile } from "./steppedWorker.ts";
import { insertTightWorkshop } from "./tightWorkshop.ts";

const planner = createPlanner({
  threads: 1,
  holdUpSeconds: 0.1,
  worker: new URL("./steppedWorker.ts", import.meta.url),
});
const stage = usePage({ viewport: { width: 360, height: 740 } }, planner);
const clear = () => {
  for (const file of [betterFile, endFile]) rmSync(file, { force: true });
};
afterAll(clear);

describe("the page of a search", () => {
  let isBegun = false;
  beforeEach(async () => {
    clear();
    if (isBegun) return await signIn(stage.page);
    isBegun = true;
    await makeAccount(stage.page);
    await insertTightWorkshop(stage.application);
  });

  it("shows the plan getting better under a hand that keeps its place, and leads to it at the end", async () => {
    const { page } = stage;
    await page.goto("/plan");
    await press(page, button(page, "Plan now"));
    await expect.poll(() => heading(page)).toBe("So far W-104 will lack 36 pieces.");
    const number = page.locator("#shown-plan");
    expect(await number.inputValue()).toBe("1");
    const accept = button(page, "Accept this plan");
    await accept.focus();
    const place = await accept.boundingBox();

    writeFileSync(betterFile, "");
    await expect.poll(() => heading(page)).toBe("So far everything ships on time.");
    expect(await number.inputValue()).toBe("2");
    expect(await page.evaluate("document.activeElement.textContent")).toBe("Accept this plan");
    expect(await accept.boundingBox()).toEqual(place);

    writeFileSync(endFile, "");
    await openPlan(page);
    expect(await heading(page)).toMatch(/^Everything ships on time/);
  });

  it("accepts the plan one looks at, with the keyboard alone, while it runs", async () => {
    const { page, application } = stage;
    writeFileSync(betterFile, "");
    await page.goto("/plan");
    await press(page, button(page, "Plan again"));
    await expect.poll(() => heading(page)).toBe("So far everything ships on time.");
    await button(page, "Accept this plan").focus();
    await page.keyboard.press("Enter");
    await openPlan(page);
    const [plan] = await application.database.sql`select id, state from plans order by id desc limit 1`;
    expect([new URL(page.url()).pathname, plan?.state]).toEqual([`/plans/${plan?.id}`, "accepted"]);
  });

  it("is there for another browser too, and leads both to what one of them accepts", async () => {
    const { page } = stage;
    writeFileSync(betterFile, "");
    await page.goto("/plan");
    await press(page, button(page, "Plan again"));
    const other = await stage.anotherPage();
    await signIn(other);
    await other.goto("/plan");
    await other.getByRole("link", { name: "See how far it is" }).click();
    await expect.poll(() => heading(other)).toBe("So far everything ships on time.");
    await button(other, "Accept this plan").click();
    await Promise.all([openPlan(page), openPlan(other)]);
    expect(page.url()).toBe(other.url());
  });
});
