import { parse } from "csv-parse/sync";
import { beforeEach, describe, expect, it } from "vitest";
import { insertOrder, insertWorkingWeek } from "../build/rows.ts";
import { orderFields, useDesk } from "./desk.ts";

const { application, desk } = useDesk();

beforeEach(async () => {
  const { sql } = application.database;
  await sql`delete from list_prices`;
  await sql`insert into price_lists (name, kind, usual, includes_tax)
    select 'Shops', 'wholesale', true, false where not exists (select from price_lists)`;
  await sql`insert into list_prices (price_list_id, product_id, valid_from, unit_price_minor)
    select id, ${desk().cedar}, '2027-01-01', 450 from price_lists where kind = 'wholesale' and usual`;
});

const fieldsFor = (units: string, more: Record<string, string | readonly string[]> = {}) => ({
  ...orderFields({ customer: String(desk().otter), lines: [[desk().cedar, units]], save: "draft" }),
  ...more,
});

async function send(fields: Record<string, string | readonly string[]>, to = "/orders/new") {
  return desk().owner.post(to, fields, { from: "/orders/new" });
}

const markIn = (body: string) => /name="overruled" value="([0-9a-f]{16})"/.exec(body)?.[1] ?? "none";

describe("case packs", () => {
  beforeEach(async () => {
    await application.database.sql`insert into case_packs (shape_id, customer_id, units)
      select shape_id, ${desk().otter}, 36 from products where id = ${desk().cedar}`;
  });

  it("are said while the lines are typed, with the nearest right numbers, and change nothing", async () => {
    const answer = await send(fieldsFor("24"), "/orders/look-over");
    expect(answer.body).toContain("36 a case: 24 is not a whole number of cases; 36 or 72.");
    expect((await send(fieldsFor("50"), "/orders/look-over")).body).toContain("36 or 72.");
    expect((await send(fieldsFor("72"), "/orders/look-over")).body).not.toContain("a case:");
    expect(await application.database.sql`select 1 from orders`).toHaveLength(0);
  });

  it("are asked about once on sending, and what was overruled is taken", async () => {
    const first = await send(fieldsFor("24"));
    expect([first.statusCode, first.body.includes("Not taken yet")]).toEqual([422, true]);
    const other = await send(fieldsFor("25", { overruled: markIn(first.body) }));
    expect(other.statusCode).toBe(422);
    expect((await send(fieldsFor("24", { overruled: markIn(first.body) }))).statusCode).toBe(303);
  });

  it("put an offered number into its line without JavaScript", async () => {
    const answer = await send(fieldsFor("24", { save: "pieces.0.72" }));
    expect([answer.statusCode, answer.body.includes('value="72"')]).toEqual([200, true]);
  });
});

it("a customer's least order is said, in pieces and in money", async () => {
  await application.database.sql`update customers set least_order_units = 30, least_order_minor = 20000`;
  const { body } = await send(fieldsFor("24"), "/orders/look-over");
  expect(body).toContain("least order is 30 pieces: 6 pieces more are needed");
  expect(body).toContain("92.00 more is needed");
});

describe("a draft's money", () => {
  it("is what was typed, and a confirmed order keeps it", async () => {
    const typed = { unit_price: ["4.00"], line_discount: ["10"], discount: "5", shipping: "6.50" };
    const { location } = (await send(fieldsFor("10", typed))).headers;
    const rows = await application.database
      .sql`select unit_price_minor::integer as price, order_lines.discount_basis_points as less,
      orders.discount_basis_points as off, shipping_minor::integer as shipping from orders join order_lines on order_id = orders.id`;
    expect(rows).toEqual([{ price: 400, less: 1000, off: 500, shipping: 650 }]);
    // 10 x 4.00 less 10 % is 36.00, less 5 % is 34.20, with 6.50 shipping 40.70: by hand.
    expect((await desk().owner.get(String(location))).body).toMatch(
      /Total<\/th><td class="number">[^<]*40\.70/,
    );
    await send({}, `${location}/confirmation`);
    await application.database.sql`update list_prices set unit_price_minor = 999`;
    expect((await desk().owner.get(`${location}/confirmation`)).body).toMatch(
      /Total<\/th><td class="number">[^<]*40\.70/,
    );
  });

  it("that cannot be read is answered beside its field", async () => {
    const answer = await send(fieldsFor("10", { unit_price: ["four"], shipping: "x" }));
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain('id="lines.0.unit_price-mistake"');
    expect(answer.body).toContain('id="shipping-mistake"');
  });
});

it("a needed-by date becomes a ship-by date over working days and days on the way", async () => {
  await insertWorkingWeek(application.database.db);
  await application.database
    .sql`update customers set takes_by = 'parcel', transit_days = 2 where id = ${desk().otter}`;
  // Two working days before Monday 8 March is Thursday 4 March.
  expect((await send(fieldsFor("10", { ship_by: "", needed_by: "2027-03-08" }))).statusCode).toBe(303);
  const [row] = await application.database.sql`select ship_by::text, needed_by::text from orders`;
  expect(row).toEqual({ ship_by: "2027-03-04", needed_by: "2027-03-08" });
  await application.database.sql`delete from week_sessions`;
});

describe("finding orders", () => {
  beforeEach(async () => {
    const { db } = application.database;
    const lines = [{ productId: desk().cedar, units: 12 }];
    await insertOrder(db, { reference: "W-1", customerId: desk().otter, lines, note: "100% ring first" });
    await insertOrder(db, {
      ...{ reference: "W-2", customerId: desk().heron, customerReference: "=PO 77" },
      lines: [{ productId: desk().oat, units: 12 }],
      shipBy: "2027-03-20",
    });
  });

  const found = async (query: string) =>
    [...(await desk().owner.get(`/orders?${query}`)).body.matchAll(/class="order-link"[^>]*>([^<]*)</g)].map(
      ([, one]) => one,
    );

  it.each([
    ["q=w-1", ["W-1"]],
    ["q=lamplit", ["W-1"]],
    ["q=PO+77", ["W-2"]],
    ["q=ring", ["W-1"]],
    ["q=100%25", ["W-1"]],
    ["q=oat", ["W-2"]],
    ["q=oat+lamplit", []],
    ["q=_", []],
    ["from=2027-03-10", ["W-2"]],
    ["to=2027-03-10", ["W-1"]],
  ])("%s finds %j", async (query, references) => {
    expect(await found(query)).toEqual(references);
  });

  it("goes out as CSV that a reader of RFC 4180 reads back, formulas made harmless", async () => {
    const answer = await desk().owner.get("/orders/list.csv?q=po");
    expect(answer.headers["content-type"]).toContain("text/csv");
    expect(answer.body.endsWith("\r\n")).toBe(true);
    const [order] = recordsIn(answer.body);
    expect(order).toMatchObject({
      order: "W-2",
      their_number: "'=PO 77",
      ship_by: "2027-03-20",
      pieces: "12",
    });
    expect((await desk().helper.get("/orders/list.csv")).statusCode).toBe(403);
  });
});

describe("the list as a file", () => {
  it("has the money of each order as its own page has it: fixed, as of today, or none", async () => {
    const { otter, heron, cedar, oat } = desk();
    const { db, sql } = application.database;
    await sql`delete from orders`;
    const order = (reference: string, customerId: number, productId: number, state: "draft" | "confirmed") =>
      insertOrder(db, {
        ...{ reference, customerId, state, confirmedAt: state === "draft" ? null : new Date() },
        lines: [{ productId, units: 10 }],
      });
    await order("W-1", otter, cedar, "draft");
    await order("W-2", otter, cedar, "confirmed");
    await order("W-3", heron, oat, "draft");
    await sql`update order_lines set unit_price_minor = 300 from orders
      where orders.id = order_id and reference = 'W-2'`;
    await sql`update orders set priced_at = now(), currency = 'EUR', prices_include_tax = false, rounding = 'line',
      shipping_tax_ppm = 0, shipping_minor = 500 where reference = 'W-2'`;
    const file = recordsIn((await desk().owner.get("/orders/list.csv?state=all")).body);
    const money = file.map(({ order: reference, currency, total, lines_without_price: unpriced }) => [
      ...[reference, currency, total, unpriced],
    ]);
    // 10 x 4.50 of the list; 10 x 3.00 as it was fixed and 5.00 for sending; the oat ball has no price.
    expect(money.toSorted()).toEqual([
      ["W-1", "EUR", "45.00", "0"],
      ["W-2", "EUR", "35.00", "0"],
      ["W-3", "EUR", "0.00", "1"],
    ]);
  });

  it("holds every order once, in the order of the list, however many there are", async () => {
    const { sql } = application.database;
    await sql`delete from orders`;
    await sql`insert into orders (reference, customer_id, terms, ship_by, weight, state, note, created_at, confirmed_at)
      select 'W-' || number, ${desk().otter}, 'complete', date '2027-03-02' + number % 7, 1, 'confirmed', '', now(), now()
      from generate_series(1, 1201) as number`;
    const file = recordsIn((await desk().owner.get("/orders/list.csv")).body);
    expect(new Set(file.map(({ order }) => order)).size).toBe(1201);
    const dates = file.map(({ ship_by }) => ship_by);
    expect(dates).toEqual(dates.toSorted());
  });
});

/** As a reader of RFC 4180 reads them. */
function recordsIn(csv: string): Record<string, string>[] {
  return parse(csv, { bom: true, columns: true, record_delimiter: "\r\n" });
}

it("an order is copied without its dates and prices", async () => {
  const { orderId } = await insertOrder(application.database.db, {
    ...{ customerId: desk().otter, note: "Ring first" },
    lines: [{ productId: desk().cedar, units: 36 }],
  });
  const { body } = await desk().owner.get(`/orders/new?copy=${orderId}`);
  expect(body).toContain("Filled in from W-104");
  expect(body).toContain('value="36"');
  expect(body).not.toContain("2027-03-05");
});
