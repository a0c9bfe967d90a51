import { rmSync, writeFileSync } from "node:fs";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { readKeptPlan } from "../../server/plans/keptPlan.ts";
import { createPlanner, type Planner } from "../../server/plans/plannerPool.ts";
import { findPlan } from "../../server/plans/queries.ts";
import { firstOwner, useApplication } from "../build/application.ts";
import { insertOrder } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { askingFile, searchingFile } from "./askingWorker.ts";
import { insertTightWorkshop } from "./tightWorkshop.ts";

/** What the worker's plan is shown with while nothing is proven, and once the proof is done. */
const unproven = "Whether another plan could have less is not proven.";
const proven = "No plan has less than 36 piece-days";

afterAll(() => {
  for (const file of [searchingFile, askingFile]) rmSync(file, { force: true });
});

/**
 * 36 pieces due on the day of the first session, which only the 12 on the shelf can be there for: ready on Tuesday at the
 * earliest, they are a day late. The plan that is shown gives nobody anything.
 */
function lateWorkshop(proves: Planner["proves"]) {
  const worker = new URL("./askingWorker.ts", import.meta.url);
  const application = useApplication(
    createPlanner({ searchSeconds: 5, holdUpSeconds: 0.1, threads: 1, proves, worker }),
  );
  const owner = { visitor: null as Visitor | null };
  beforeEach(async () => {
    for (const file of [searchingFile, askingFile]) writeFileSync(file, "");
    if (owner.visitor !== null) return;
    owner.visitor = await firstOwner(application);
    const { productId, customerId } = await insertTightWorkshop(application);
    await application.database.sql`delete from order_lines`;
    await application.database.sql`delete from orders`;
    await insertOrder(application.database.db, {
      customerId,
      reference: "W-105",
      shipBy: "2027-03-01",
      lines: [{ productId, units: 36 }],
    });
    await owner.visitor.post("/plans", {}, { from: "/plan", headers: { "hx-request": "true" } });
  });
  const page = async () => (await owner.visitor?.get("/plan/search"))?.body ?? "";
  return { application, page, visitor: () => owner.visitor };
}

describe("a search with a core left for a proof", () => {
  const { application, page, visitor } = lateWorkshop("beside-search");

  it("shows how far its plan is from the best possible while it runs, and keeps that with the plan", async () => {
    await expect.poll(page, { timeout: 60_000 }).toContain(proven);
    const body = await page();
    expect(body).toContain("Searching:");
    const search = /name="search" value="([^"]*)"/.exec(body)?.[1];
    const ended = await visitor()?.post("/plan/search/end", { search: search ?? "" }, { from: "/plans" });
    expect(ended?.headers.location).toBe("/plans/1");
    const row = await findPlan(application.database.db, 1);
    expect(row && readKeptPlan(row).plan.bound).toBe(36);
    expect((await visitor()?.get("/plans/1"))?.body).toContain(proven);
  });
});

describe("a search that needs all cores", () => {
  const { page } = lateWorkshop("after-search");

  it("is proven while it is asked what holds the workshop up", async () => {
    await expect.poll(page).toContain(unproven);
    rmSync(searchingFile);
    await expect.poll(page, { timeout: 60_000 }).toContain(proven);
    expect(await page()).toContain("Now asking what holds the workshop up");
    rmSync(askingFile);
    await expect.poll(page).toBe("");
  });
});
