import { describe, expect, it } from "vitest";
import { usePage } from "../browser/page.ts";
import { button, fill, heading, makeAccount, openPlan, press, signIn } from "../journeys/hands.ts";

/* At the bench, on a phone: what a plan runs out of is bought, received, weighed out and counted. */
const stage = usePage({ viewport: { width: 360, height: 740 } });

describe("supplies, with gloves on", { timeout: 240_000 }, () => {
  it("lead from a plan that runs out to what to buy, to the delivery, the run and the count", async () => {
    const { page, application } = stage;
    await makeAccount(page);
    // Setting it up takes a busy machine longer than a click may wait.
    await button(page, "Begin with the sample workshop").focus();
    await press(page, { click: () => page.keyboard.press("Enter") });
    await page.goto("/plan");
    await press(page, button(page, "Plan now"));
    await openPlan(page);
    expect(await page.locator(".supplies-statement").textContent()).toMatch(
      /It runs out of .* short: first for/,
    );
    await press(page, page.getByRole("link", { name: "What to buy, and by when" }));
    expect(await heading(page)).toMatch(/^Order /);
    const list = page.locator(".shopping-list", { hasText: "Tarn & Thimble Minerals" });
    await press(page, list.getByRole("button", { name: "The ticked ones are ordered" }));
    const onItsWay = page.getByRole("listitem").filter({ hasText: "of Citric acid" });
    await press(page, onItsWay.getByRole("link", { name: "Receive" }));
    await fill(page, { "Supplier's lot": "TT-0977" });
    await press(page, button(page, "Enter it as a new lot"));
    expect(await page.getByText("supplier's lot TT-0977").count()).toBe(1);

    await page.goto("/plan");
    await press(page, button(page, "Accept this plan"));
    await page.goto("/bench");
    await press(page, page.getByRole("button", { name: "Start mixing" }).first());
    await page.goto("/supplies");
    await press(page, page.locator("a[href^='/supplies/runs/']").first());
    expect(await heading(page)).toMatch(/was weighed out from \d+ lots/);

    await page.goto("/supplies");
    await press(page, page.getByRole("link", { name: "Citric acid, fine" }));
    for (const lot of await page.locator("input[name='countedAmount']").all()) await lot.fill("1000");
    await press(page, button(page, "Write the count down"));
    expect(await heading(page)).toMatch(/^Citric acid, fine: \d+ kg on hand/);
    expect(await page.getByText("put right by a count").count()).toBeGreaterThan(0);
    const [counts] = await application.database.sql`
      select count(*)::integer as moves from supply_moves where kind = 'counted'`;
    expect(counts?.moves).toBeGreaterThan(1);
  });

  it("come out on paper as lists alone, with boxes to tick by hand", async () => {
    const { page } = stage;
    await signIn(page);
    await page.goto("/supplies/to-buy");
    const paper = await page.pdf({ format: "A4" });
    expect(paper.subarray(0, 5).toString()).toBe("%PDF-");
    await page.emulateMedia({ media: "print" });
    expect(await page.locator(".shopping-list").first().isVisible()).toBe(true);
    for (const hidden of ["nav", ".shopping-list button", ".not-printed"])
      expect(await page.locator(hidden).first().isVisible()).toBe(false);
    const width = await page.evaluate<number>(
      "document.documentElement.scrollWidth - document.documentElement.clientWidth",
    );
    expect(width).toBeLessThanOrEqual(0);
  });
});
