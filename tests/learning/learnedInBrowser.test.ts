import type { Page } from "playwright-core";
import { beforeEach, describe, expect, it } from "vitest";
import { usePage } from "../browser/page.ts";
import {
  insertBlend,
  insertDryingLot,
  insertPlan,
  insertProduct,
  insertShape,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import { button, heading, makeAccount, press, signIn } from "../journeys/hands.ts";
import { insertBatch } from "./batches.ts";

/* Monday 1 March 2027, 08:00. */
const stage = usePage({ viewport: { width: 360, height: 740 } });

let isBegun = false;
beforeEach(async () => {
  const { database } = stage.application;
  const { db, sql } = database;
  if (!isBegun) await makeAccount(stage.page);
  isBegun = true;
  await sql`truncate workshop, week_sessions, calendar_exceptions, shapes, blends, products, lots, plans, runs, moves, air_readings,
    damp_looks, changes, form_receipts restart identity cascade`;
  await insertWorkshop(db);
  await insertWorkingWeek(db);
  const blendId = await insertBlend(db, { code: "cedar", name: "Cedar" });
  const shapeId = await insertShape(db, { name: "Ball" });
  const productId = await insertProduct(db, { code: "cedar/ball-60", name: "Cedar ball", blendId, shapeId });
  const planId = await insertPlan(db, { personId: 1, state: "superseded" });
  for (const day of ["2027-02-01", "2027-02-02", "2027-02-03"])
    await insertBatch(database, { planId, blendId, productId, day, pressed: 40, lost: { cracked: 2 } });
  await insertDryingLot(db, { productId, units: 12, readyDueAt: new Date("2027-03-01T07:30:00Z") });
});

const sideways = (page: Page) =>
  page.evaluate<number>("document.documentElement.scrollWidth - document.documentElement.clientWidth");

describe.each([
  { javaScriptEnabled: true, how: "with JavaScript" },
  { javaScriptEnabled: false, how: "without JavaScript" },
])("on a phone, $how", { timeout: 120_000 }, ({ javaScriptEnabled }) => {
  let page: Page;
  beforeEach(async () => {
    page = await stage.anotherPage({ javaScriptEnabled });
    await signIn(page);
  });

  it("a learned loss rate is seen with what it rests on, and taken over with one press", async () => {
    await page.goto("/setup");
    await press(page, page.getByRole("link", { name: "What batches taught" }));
    expect(await heading(page)).toBe("One figure of the plan is not what batches say.");
    expect(await page.getByText("3 batches, 120 pieces").count()).toBe(1);
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    await press(page, page.getByRole("button", { name: "Take it over for Cedar ball" }));
    expect(await heading(page)).toBe("Batches come out as the plan counts on.");
    expect(await page.getByText("The plan expects 5").count()).toBe(1);
  });

  it("the air is read off, and what it suggests is planned", async () => {
    await page.goto("/bench");
    await press(page, page.getByRole("link", { name: "Today's air, and what it means for drying" }));
    await page.locator("#reading-celsius").fill("20");
    await page.locator("#reading-humidity").fill("70");
    await press(page, button(page, "Write it down"));
    await page.locator("#reference-celsius").fill("20");
    await page.locator("#reference-humidity").fill("50");
    await press(page, button(page, "Take it as the reference day"));
    expect(await heading(page)).toMatch(/^Today's air suggests drying 1\.65 times as long/);
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    await press(page, button(page, "Plan with it"));
    expect(await heading(page)).toMatch(/and so it is planned\.$/);
  });

  it("a lot that is still damp is left in its molds until later", async () => {
    await page.goto("/bench/lots/4/unmolding");
    await press(page, button(page, "4 hours"));
    expect(new URL(page.url()).pathname).toBe("/bench");
    const [lot] = await stage.application.database.sql`select unmold_due_at from lots where id = 4`;
    expect(lot?.unmold_due_at).toEqual(new Date("2027-03-01T12:00:00Z"));
  });
});
