import type { Page } from "playwright-core";
import type { Sql } from "postgres";
import type { StandingClock } from "../build/application.ts";
import { button, fill, press, pressAll } from "./hands.ts";

/** What a maker works with: her browser, the clock on the wall, and a look behind the pages. */
export interface Workday {
  readonly page: Page;
  readonly clock: StandingClock;
  readonly sql: Sql;
}

/** In every lot so many pieces more are pressed than planned, and as many crack. */
export const SPOILED_IN_EVERY_LOT = 2;

interface Session {
  readonly startsAt: string;
  readonly endsAt: string;
}

/**
 * Works off the accepted plan, session after session: ticks off what has arrived, unmolds and shelves what is due,
 * packs and sends what the shelf can fill, mixes and presses. Stops when everything has arrived.
 */
export async function workOffPlan(day: Workday): Promise<void> {
  const [plan] = await day.sql<{ sessions: Session[] }[]>`
    select session_instants as sessions from plans where state = 'accepted'`;
  for (const session of plan?.sessions ?? []) {
    day.clock.set(session.startsAt);
    await tickOffArrivals(day);
    await seeToMoldsAndTrays(day.page);
    const begun = await startRuns(day.page);
    await packAndSend(day.page);
    day.clock.set(session.endsAt);
    if (begun > 0) await recordPressings(day.page);
    if (await everythingHasArrived(day.sql)) return;
  }
}

async function tickOffArrivals({ page, sql }: Workday): Promise<void> {
  const underWay = await sql`select 1 from deliveries where state = 'shipped' limit 1`;
  if (underWay.length === 0) return;
  await page.goto("/delivery");
  await pressAll(page, /has arrived$/);
}

async function seeToMoldsAndTrays(page: Page): Promise<void> {
  await page.goto("/bench");
  await pressAll(page, "All unmolded");
  await pressAll(page, "All lifted");
  await pressAll(page, "All ready");
}

/** Starts every run of the session that begins now; returns how many. */
async function startRuns(page: Page): Promise<number> {
  const ofThisSession = page.getByRole("heading", { name: "To mix in this session" }).locator("xpath=..");
  const start = ofThisSession.getByRole("button", { name: "Start mixing" });
  let begun = 0;
  for (; (await start.count()) > 0; begun += 1) await press(page, start.first());
  return begun;
}

/** Writes down what was pressed in the session that ends now. */
async function recordPressings(page: Page): Promise<void> {
  await page.goto("/bench");
  const record = page.getByRole("link", { name: /^Record / });
  while ((await record.count()) > 0) {
    await press(page, record.first());
    const asked = Number(/asks for (\d+) piece/.exec(await page.locator("main").innerHTML())?.[1]);
    await fill(page, {
      "Pieces pressed": String(asked + SPOILED_IN_EVERY_LOT),
      Cracked: String(SPOILED_IN_EVERY_LOT),
    });
    await press(page, button(page, "Pressed, now drying"));
  }
}

/** Packs every order that the shelf can fill, and what there is for those that leave in parts. */
async function packAndSend(page: Page): Promise<void> {
  await page.goto("/packing");
  const rows = page.getByRole("row").filter({ has: page.getByRole("link") });
  const worthwhile: string[] = [];
  for (const row of await rows.all()) {
    const text = (await row.textContent()) ?? "";
    const href = await row.getByRole("link").first().getAttribute("href");
    if (href && (/All \d+ pieces/.test(text) || isForParts(text))) worthwhile.push(href);
  }
  for (const href of worthwhile) {
    await page.goto(href);
    await pressAll(page, /^Pack th(is|ese) \d+ of /);
    await pressAll(page, "Mark as packed");
    await sendOff(page);
  }
}

/** Shops of this journey that take part deliveries, when there is something for them. */
function isForParts(row: string): boolean {
  return /Borrowed Umbrella|Polite Kraken/.test(row) && !row.includes("Nothing yet");
}

async function sendOff(page: Page): Promise<void> {
  const link = page.locator("main").getByRole("link", { name: /^Send (it )?off/ });
  if ((await link.count()) === 0) return;
  await press(page, link);
  await page.getByLabel("How it leaves").selectOption("local-round");
  await press(page, button(page, /leaves now$/));
}

async function everythingHasArrived(sql: Sql): Promise<boolean> {
  return (await sql`select 1 from orders where state <> 'delivered'`).length === 0;
}
