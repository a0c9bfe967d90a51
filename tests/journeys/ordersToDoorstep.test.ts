import { beforeEach, describe, expect, it } from "vitest";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import { usePage } from "../browser/page.ts";
import {
  blends,
  customers,
  orders,
  ordersFile,
  sessions,
  stock,
  timeZone,
  unitsOnOrder,
} from "./dampAlmanac.ts";
import { button, fill, heading, makeAccount, openPlan, press, signIn } from "./hands.ts";
import { setUpByForms } from "./setUpByForms.ts";
import { SPOILED_IN_EVERY_LOT, workOffPlan } from "./workOff.ts";

const stage = usePage();

/** One story in chapters, each going on where the one before it ended. */
describe("from an empty workshop to the last doorstep", { timeout: 240_000 }, () => {
  beforeEach(async (context) => {
    if (!context.task.name.startsWith("the maker makes her account")) await signIn(stage.page);
  });

  it("the maker makes her account and sets the workshop up by its forms", async () => {
    // Sunday evening, 19:00 in Lisbon; the week that is planned ends with the night the clocks go forward.
    stage.application.clock.set("2027-03-21T19:00:00Z");
    await makeAccount(stage.page);
    expect(await heading(stage.page)).toBe("How do you want to begin?");
    await setUpByForms(stage.page);
    const { sql } = stage.application.database;
    const [made] = await sql`select (select count(*)::integer from products) as products,
      (select count(*)::integer from customers) as customers,
      (select sum(hand_minutes)::integer from week_sessions) as hands, time_zone from workshop`;
    expect(made).toEqual({
      products: blends.reduce((sum, blend) => sum + blend.shapes.length, 0),
      customers: customers.length,
      hands: sessions.reduce((sum, { days, hands }) => sum + days.length * Number(hands), 0),
      time_zone: timeZone,
    });
  });

  it("she enters the pieces that stand ready already", async () => {
    const { page } = stage;
    await page.goto("/shelf/ready-stock");
    await page.getByLabel("Product").selectOption(stock.product);
    await fill(page, { Pieces: String(stock.units) });
    await press(page, button(page, "Enter as a new lot"));
    await page.goto("/shelf");
    expect(await page.locator("main").textContent()).toContain(`${stock.units} pieces`);
  });

  it("she takes the week's file after a look at it, and a second time without effect", async () => {
    const { page } = stage;
    const { sql } = stage.application.database;
    await lookAtFile(ordersFile());
    expect(await heading(page)).toContain(`${orders.length} new orders with ${unitsOnOrder()} pieces`);
    expect(await sql`select 1 from orders`).toHaveLength(0);
    await press(page, button(page, `Take ${orders.length} orders`));
    await lookAtFile(ordersFile());
    expect(await heading(page)).toContain("all of it was taken before");

    const [taken] = await sql`select count(distinct orders.id)::integer as orders, count(*)::integer as lines,
      sum(units)::integer as units, count(distinct customer_id)::integer as customers
      from orders join order_lines on order_id = orders.id where state = 'confirmed'`;
    expect(taken).toEqual({ orders: orders.length, lines: 44, units: unitsOnOrder(), customers: 13 });
    const terms =
      await sql`select terms, count(*)::integer as orders from orders group by terms order by terms`;
    expect(terms.map((row) => [row.terms, row.orders])).toEqual([
      ["as-ready", 2],
      ["complete", 9],
      ["market", 2],
    ]);
  });

  it("she reads what it all adds up to", async () => {
    const { page } = stage;
    await page.goto("/roll-up");
    const equation = (ordered: number, shelf: number) =>
      `${ordered} on order = ${shelf} on the shelf + 0 drying + ${ordered - shelf} to make.`;
    expect(await heading(page)).toBe(equation(unitsOnOrder(), stock.units));
    for (const { name } of blends) {
      const ofBlend = (product: string) => product.startsWith(`${name.toLowerCase().replace(" ", "-")}/`);
      const sheet = page.locator("section").filter({ has: page.getByRole("heading", { name, exact: true }) });
      expect(await sheet.textContent()).toContain(
        equation(unitsOnOrder(ofBlend), ofBlend(stock.code) ? stock.units : 0),
      );
    }
  });

  it("she plans the week and accepts the plan", async () => {
    const { page } = stage;
    await page.goto("/plan");
    await press(page, button(page, "Plan now"));
    await openPlan(page);
    expect(await heading(page)).toMatch(/^Everything ships on time/);
    await press(page, button(page, "Accept this plan"));
    const [plan] = await stage.application.database.sql`select * from plans where state = 'accepted'`;
    expect(checkPlan(plan?.plan_case, plan?.answer)).toEqual([]);
    expect(plan?.answer.cost).toBe(0);
    const runs = await stage.application.database.sql`select 1 from runs where state = 'planned'`;
    expect(runs).toHaveLength(plan?.answer.runs.length);
  });

  it("they mix, press, unmold, pack and send until everything has arrived", async () => {
    const { application, page } = stage;
    await workOffPlan({ page, clock: application.clock, sql: application.database.sql });
    await page.goto("/week");
    expect(await heading(page)).toMatch(/^All quiet/);
    const states = await application.database.sql`select distinct state from orders`;
    expect(states.map((row) => row.state)).toEqual(["delivered"]);
  });

  it("and every piece and every date is accounted for", async () => {
    await everyLinePackedAndSent();
    await everyRunAndLotDone();
    await ledgerAddsUp();
    await datesHold();
  });
});

async function lookAtFile(content: string): Promise<void> {
  const { page } = stage;
  await page.goto("/orders/import");
  const file = { name: "week.csv", mimeType: "text/csv", buffer: Buffer.from(content) };
  await page.getByLabel("A CSV file of orders").setInputFiles(file);
  await press(page, button(page, "Look at it"));
}

async function everyLinePackedAndSent(): Promise<void> {
  const { sql } = stage.application.database;
  const [sums] = await sql`select count(*)::integer as lines, sum(shipped_units)::integer as shipped,
    count(*) filter (where ordered_units = packed_units and packed_units = shipped_units)::integer as whole
    from line_progress`;
  expect(sums).toEqual({ lines: 44, whole: 44, shipped: unitsOnOrder() });
}

async function everyRunAndLotDone(): Promise<void> {
  const { sql } = stage.application.database;
  expect(await sql`select 1 from runs where state <> 'formed'`).toHaveLength(0);
  expect(await sql`select 1 from lots where state <> 'ready'`).toHaveLength(0);
}

/** For every product: ready before + planned = ordered + left over; what was spoiled came and went besides. */
async function ledgerAddsUp(): Promise<void> {
  const { sql } = stage.application.database;
  const [moves] = await sql`select sum(units) filter (where kind = 'made')::integer as made,
    -sum(units) filter (where kind = 'lost')::integer as lost,
    -sum(units) filter (where kind = 'packed')::integer as packed, sum(units)::integer as left from moves`;
  const [planned] =
    await sql`select sum(planned_units)::integer as units, count(run_id)::integer as lots from lots`;
  const spoiled = SPOILED_IN_EVERY_LOT * planned?.lots;
  expect(moves).toEqual({
    made: stock.units + planned?.units + spoiled,
    lost: spoiled,
    packed: unitsOnOrder(),
    left: stock.units + planned?.units - unitsOnOrder(),
  });
  expect(await sql`select 1 from lot_balances where units < 0`).toHaveLength(0);
}

/** On time by the workshop's own calendar; nothing unmolded, shelved, packed or sent before its time. */
async function datesHold(): Promise<void> {
  const { sql } = stage.application.database;
  const late =
    await sql`select reference from orders where (shipped_at at time zone ${timeZone})::date > ship_by`;
  expect(late.map((row) => row.reference)).toEqual([]);
  const tooSoon =
    await sql`select lots.code from lots join products on products.id = product_id join shapes on shapes.id = shape_id
    where run_id is not null and (unmolded_at < formed_at + mold_minutes * interval '1 minute'
      or ready_at < unmolded_at + rest_minutes * interval '1 minute')`;
  expect(tooSoon.map((row) => row.code)).toEqual([]);
  const [wrongWay] = await sql`select count(*)::integer as orders from orders
    where not (confirmed_at < packed_at and packed_at <= shipped_at and shipped_at < delivered_at)`;
  expect(wrongWay?.orders).toBe(0);
}
