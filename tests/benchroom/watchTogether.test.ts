import type { ServerResponse } from "node:http";
import type { Page } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import { usePage } from "../browser/page.ts";
import { firstOwner } from "../build/application.ts";
import { insertWorkshop } from "../build/rows.ts";
import { button, heading, press, signIn } from "../journeys/hands.ts";
import { furnishByTheClock } from "./clockRoom.ts";

const stage = usePage();
const at = (clock: string) => stage.application.clock.set(`2027-03-${clock}:00Z`);

beforeAll(async () => {
  await firstOwner(stage.application);
  await insertWorkshop(stage.application.database.db);
});

/** The bench at 09:10 with a run to mix, in the owner's browser; everything is made before anybody looks. */
async function openBench(page = stage.page): Promise<Page> {
  at("01T09:10");
  await stage.application.database.sql`truncate plans, blends, shapes, changes restart identity cascade`;
  await furnishByTheClock(stage.application.database.db);
  await signIn(page);
  await page.goto("/bench");
  return page;
}

describe("two devices at one bench", () => {
  it("see the same state without asking, within a second", async () => {
    const streams = openStreams();
    const page = await openBench();
    const other = await stage.anotherPage({ storageState: await page.context().storageState() });
    await other.goto("/bench");
    expect(await heading(other)).toContain("Mix Cedar amber now");
    await press(page, button(page, "Start mixing"));
    await other.getByRole("heading", { name: "Press Cedar amber now" }).waitFor({ timeout: 1_000 });
    await press(page, button(page, "Mix is right, press it"));
    await button(other, "Bowl 1 is pressed").waitFor({ timeout: 1_000 });
    await press(other, button(other, "Bowl 1 is pressed"));
    await button(page, "Begin bowl 2").waitFor({ timeout: 1_000 });
    // However often the two pages were renewed, the server holds one stream for each.
    await expect.poll(() => streams.size, { timeout: 10_000 }).toBe(2);
  });

  it("ask for one stream each, also where the answer to a tap and the news of it come in together", async () => {
    const page = await openBench();
    const asked: string[] = [];
    page.on("request", (request) => {
      if (request.url().endsWith("/bench/news")) asked.push(request.url());
    });
    await page.reload();
    await press(page, button(page, "Start mixing"));
    // The answer to a tap replaces the page's main part, and the news right after it are morphed into it.
    for (const swap of ["innerHTML", "innerMorph", "innerHTML", "innerMorph"])
      await page.evaluate(`htmx.ajax("GET", "/bench", { target: "#main", swap: "${swap}" })`);
    at("01T09:15");
    await stage.application.database.sql`update workshop set mixers = 1`;
    await expect.poll(() => page.locator(".clock-now time").textContent()).toBe("09:15");
    expect(asked).toHaveLength(1);
  });

  it("leave the keyboard where it is while the other one taps", async () => {
    const page = await openBench();
    await button(page, "Start mixing").focus();
    at("01T09:12");
    await stage.application.database.sql`update workshop set mixers = 1`;
    await expect.poll(() => page.locator(".clock-now time").textContent()).toBe("09:12");
    expect(await page.evaluate("document.activeElement.id")).toBe("start-1");
  });
});

describe("a timer in the page", () => {
  it("counts on by the server's clock, and is the same after a reload", async () => {
    const page = await openBench();
    await press(page, button(page, "Start mixing"));
    at("01T09:25");
    await page.reload();
    const timer = page.locator(".bowl [data-since]");
    // It begins at 15:00 and runs by the second.
    await expect.poll(() => timer.textContent()).toMatch(/^for 15:0[1-9]$/);
    await page.reload();
    await expect.poll(() => timer.textContent()).toMatch(/^for 15:0\d$/);
  });

  it("is a plain time where no script runs", async () => {
    const page = await openBench(await stage.anotherPage({ javaScriptEnabled: false }));
    await press(page, button(page, "Start mixing"));
    at("01T09:25");
    await page.reload();
    expect(await page.locator(".bowl [data-since]").textContent()).toBe("for 15 min");
  });
});

/** The streams of news that the server holds open from now on; a page that goes ends its own, whatever its browser tells. */
function openStreams(): ReadonlySet<ServerResponse> {
  const open = new Set<ServerResponse>();
  stage.application.app.server.on("request", (request, response) => {
    if (request.url !== "/bench/news") return;
    open.add(response);
    response.once("close", () => open.delete(response));
  });
  return open;
}
