import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertCustomer, insertProduct, insertWorkingWeek } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { openWorkroom } from "../packing/workroom.ts";

const application = useApplication();
let owner: Visitor;
let helper: Visitor;
let stall: number;
let cedar: number;

beforeAll(async () => {
  const people = await openWorkroom(application);
  owner = people.owner;
  helper = people.fig;
  const { db } = application.database;
  await insertWorkingWeek(db);
  stall = await insertCustomer(db, { name: "Quayside Saturday", kind: "market" });
  cedar = await insertProduct(db, { name: "Cedar ball" });
  // The clock stands on Monday 1 March 2027.
  for (const [heldOn, home] of [
    ["2027-02-13", "2"],
    ["2027-02-20", "0"],
    ["2027-02-27", "3"],
  ] as const) {
    const address = await plan(heldOn);
    await owner.post(
      `${address}/count`,
      {
        product: String(cedar),
        taken: "20",
        home,
        given_away: "",
        sold_out_at: "",
        seen: await seenOn(`${address}/count`),
      },
      { from: `${address}/count` },
    );
  }
});

describe("a market from plan to crate list", () => {
  it("is suggested from what was sold, and one tap makes the numbers a draft to be packed on the day before", async () => {
    const address = await plan("2027-03-06");
    const page = await owner.get(address);
    const [, units] =
      /sold 17 to 20 in three markets, sold out once: take (\d+)/.exec(textOf(page.body)) ?? [];
    expect(Number(units)).toBeGreaterThan(17);
    const sent = await owner.post(
      `${address}/crate-list`,
      { product: String(cedar), units: "23", seen: await seenOn(address) },
      { from: address },
    );
    expect(sent.statusCode).toBe(303);
    const [order] = await application.database.sql`
      select orders.state, ship_by::text, needed_by::text, units from orders
      join order_lines on order_lines.order_id = orders.id join markets on markets.order_id = orders.id
      where held_on = '2027-03-06'`;
    // The workshop works Monday to Friday: a Saturday's crate is packed by Friday.
    expect({ ...order }).toEqual({
      state: "draft",
      ship_by: "2027-03-05",
      needed_by: "2027-03-06",
      units: 23,
    });
  });

  it("keeps what somebody else wrote on the crate list meanwhile", async () => {
    const address = await plan("2027-03-13");
    const seen = await seenOn(address);
    const fields = { product: String(cedar), units: "5", seen };
    await owner.post(`${address}/crate-list`, fields, { from: address });
    const late = await owner.post(`${address}/crate-list`, { ...fields, units: "9" }, { from: address });
    expect(late.statusCode).toBe(409);
    expect(textOf(late.body)).toContain("The crate list was changed after this page was made.");
    expect(late.body).toContain('value="5"');
  });

  it("is written down once a date, and says so beside the date", async () => {
    await plan("2027-03-20");
    const again = await owner.post("/markets", fieldsOf("2027-03-20"), { from: "/markets/new" });
    expect(again.statusCode).toBe(422);
    expect(textOf(again.body)).toContain("This market is written down for that date already.");
  });
});

describe("the count of a market", () => {
  it("says every mistake beside its product and keeps what was typed", async () => {
    const address = await plan("2027-02-06");
    const wrong = await owner.post(
      `${address}/count`,
      {
        product: String(cedar),
        taken: "5",
        home: "9",
        given_away: "",
        sold_out_at: "",
        seen: await seenOn(`${address}/count`),
      },
      { from: `${address}/count` },
    );
    expect(wrong.statusCode).toBe(422);
    expect(textOf(wrong.body)).toContain("That is more than the 5 that were taken.");
    expect(wrong.body).toContain('value="9"');
  });

  it("is a helper's work too, and shows her no money; the rest of markets is the owner's", async () => {
    const page = await helper.get("/markets/1/count");
    expect(page.statusCode).toBe(200);
    expect(headingOf(page.body)).toBe("What came home from Quayside Saturday on Saturday 13 February?");
    expect(page.body).not.toContain("€");
    for (const address of ["/markets", "/markets/1", "/markets/report", "/markets/report.csv"])
      expect((await helper.get(address)).statusCode).toBe(403);
  });
});

describe("the report", () => {
  it("adds up by market and by product", async () => {
    const page = await owner.get("/markets/report");
    // 18 + 20 + 17 of 60.
    expect(headingOf(page.body)).toBe("Three markets sold 55 of 60 pieces, 92 %.");
  });

  it("is a file that a spreadsheet reads, a row for each product of each market", async () => {
    const { body, headers } = await owner.get("/markets/report.csv");
    expect(headers["content-type"]).toBe("text/csv; charset=utf-8");
    const rows = body.replace("\ufeff", "").trimEnd().split("\r\n");
    expect(rows[0]).toMatch(/^date,market,kind,product code,product,taken,sold,/);
    expect(rows[2]).toBe("2027-02-20,Quayside Saturday,,cedar-amber/ball-60,Cedar ball,20,20,0,0,yes,,,EUR");
  });
});

describe("a market that comes again", () => {
  it("is offered on its next dates until it is planned", async () => {
    const { customer: _, held_on: __, note: ___, ...usual } = fieldsOf("");
    const address = `/markets/habits/${stall}`;
    const habit = { ...usual, repeats: "monthly", weeks_apart: "", starts_on: "2027-04-03", ends_on: "" };
    expect((await owner.post(address, habit, { from: address })).statusCode).toBe(303);
    const page = textOf((await owner.get("/markets")).body);
    // The first Saturdays of April, May and June 2027.
    for (const day of ["Saturday 3 April", "Saturday 1 May", "Saturday 5 June"]) expect(page).toContain(day);
    expect(page).toContain("Quayside Saturday on the first Saturday of every month");
    await plan("2027-05-01");
    expect((await owner.get("/markets")).body).not.toContain(`customer=${stall}&amp;date=2027-05-01`);
  });
});

describe("with retail prices", () => {
  beforeAll(async () => {
    await application.database.sql`insert into price_lists (name, kind, usual, includes_tax)
      values ('Stall', 'retail', true, true)`;
    await application.database
      .sql`insert into list_prices (price_list_id, product_id, valid_from, unit_price_minor)
      select id, ${cedar}, valid_from::date, price from price_lists,
        (values ('2027-01-01', 590), ('2027-02-20', 690)) as prices (valid_from, price)`;
  });

  it("the report reckons each market at the prices of its day", async () => {
    // 18 at 5.90, then 20 and 17 at 6.90.
    expect(textOf((await owner.get("/markets/report")).body)).toMatch(
      /At the prices of the day, tax in them, that came to \S*361\.50/,
    );
  });

  it("the crate list comes on paper: what to take, what it costs, when to load, and room for the count", async () => {
    const address = await plan("2027-03-27");
    expect((await owner.get(`${address}/crate-list`)).statusCode).toBe(404);
    const fields = { product: String(cedar), units: "23", seen: await seenOn(address) };
    await owner.post(`${address}/crate-list`, fields, { from: address });
    expect((await owner.get(address)).body).toContain(`href="${address}/crate-list"`);
    const sheet = textOf((await owner.get(`${address}/crate-list`)).body);
    expect(sheet).toMatch(/Crate list M-\d+ for Quayside Saturday, Saturday 27 March 2027/);
    expect(sheet).toContain("A draft: nobody has confirmed it yet.");
    expect(sheet).toContain("Packed by Friday 26 March Load from 08:00 Open 09:00 to 13:00");
    expect(sheet).toMatch(/In the crate Came home Given away Sold out at Cedar ball \S*6\.90 23 In all 23/);
    expect((await helper.get(`${address}/crate-list`)).statusCode).toBe(403);
  });
});

function fieldsOf(heldOn: string): Record<string, string> {
  return {
    customer: String(stall),
    held_on: heldOn,
    kind: "",
    place: "",
    opens: "09:00",
    closes: "13:00",
    fee: "35",
    loading: "60",
    note: "",
  };
}

/** Plans the market on a date; returns its address. */
async function plan(heldOn: string): Promise<string> {
  const { headers } = await owner.post("/markets", fieldsOf(heldOn), { from: "/markets/new" });
  return String(headers.location);
}

async function seenOn(page: string): Promise<string> {
  return /name="seen" value="([^"]*)"/.exec((await owner.get(page)).body)?.[1] ?? "";
}
