import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import {
  insertContact,
  insertCustomer,
  insertPerson,
  insertPlan,
  insertProduct,
  insertRun,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { ownerInSetup } from "../workshop/setupRoom.ts";

const application = useApplication();
const { database } = application;
const AT = "2027-03-01T12:00:00Z";
let owner: Visitor;

/**
 * 500 g of a soda of which 120 g went into a batch of 40 pieces; 12 of them left for the Lamplit Otter, 5 lie in its box.
 */
beforeAll(async () => {
  owner = await ownerInSetup(application);
  const { db, sql } = database;
  const planId = await insertPlan(db, { personId: await insertPerson(db, { name: "Fig" }) });
  const productId = await insertProduct(db, { code: "cedar/ball-60", name: "Cedar ball" });
  const [product] = await sql`select blend_id from products`;
  const { runId, lotIds } = await insertRun(db, {
    ...{ planId, blendId: product?.blend_id },
    lots: [{ productId, units: 40, code: "K7Q" }],
  });
  await sql`update lots set state = 'ready', formed_at = ${AT}, unmold_due_at = ${AT}, ready_due_at = ${AT},
    unmolded_at = ${AT}, ready_at = ${AT}`;
  const [lotId = 0] = lotIds;
  const [supply] = await sql`insert into supplies (name, kind) values ('Soda', 'soda') returning id`;
  const [bag] = await sql`insert into supply_lots (code, supply_id, supplier_lot, received_on, created_at)
    values ('SABCD', ${supply?.id}, 'L-77', '2027-02-01', ${AT}) returning id`;
  await sql`insert into supply_moves (supply_id, lot_id, kind, amount, run_id, at) values
    (${supply?.id}, ${bag?.id}, 'received', 500000, null, ${AT}), (${supply?.id}, ${bag?.id}, 'used', -120000, ${runId}, ${AT})`;
  const customerId = await insertCustomer(db, { name: "The Lamplit Otter" });
  await insertContact(db, { customerId, name: "Odile Marsh", phone: "=555 0101" });
  const [order] =
    await sql`insert into orders (reference, customer_id, terms, ship_by, weight, state, created_at, confirmed_at)
    values ('W-104', ${customerId}, 'as-ready', '2027-03-05', 1, 'packing', ${AT}, ${AT}) returning id`;
  const [line] = await sql`insert into order_lines (order_id, product_id, units)
    values (${order?.id}, ${productId}, 20) returning id`;
  await sql`insert into moves (lot_id, kind, units, at) values (${lotId}, 'made', 40, ${AT})`;
  await sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lotId}, 'packed', -17, ${line?.id}, ${AT})`;
  const [delivery] = await sql`insert into deliveries (order_id, how, state, shipped_at)
    values (${order?.id}, 'parcel', 'shipped', ${AT}) returning id`;
  await sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
    values (${delivery?.id}, ${line?.id}, ${lotId}, 12)`;
});

describe("following a lot", () => {
  it("begins with its code, its supplier's, or an order's number", async () => {
    for (const [words, found] of [
      ["sabcd", "/trace/supply-lots/1"],
      ["l-77", "/trace/supply-lots/1"],
      ["k7q", "/trace/lots/1"],
      ["w-104", "/trace/orders/1"],
    ] as const)
      expect((await owner.get(`/trace?q=${words}`)).body).toContain(`href="${found}"`);
    expect(textOf((await owner.get("/trace?q=nowhere")).body)).toContain("Nothing has that");
  });

  it("says where a supply's lot went, how much, and whom to call", async () => {
    const page = (await owner.get("/trace/supply-lots/1")).body;
    expect(headingOf(page)).toBe(
      "SABCD, Soda, is in one batch: 12 pieces went to one customer, 28 pieces are here.",
    );
    const text = textOf(page);
    for (const said of [
      "Came 500 g",
      "Into batches 120 g",
      "Here now 380 g",
      "Odile Marsh, =555 0101",
      "W-104",
    ])
      expect(text).toContain(said);
  });

  it("says of a lot of pieces who has them and what they were mixed from, as of an order", async () => {
    const lot = (await owner.get("/trace/lots/1")).body;
    expect(headingOf(lot)).toBe("12 pieces of K7Q, Cedar ball, are with one customer.");
    expect(textOf(lot)).toContain("Soda SABCD L-77 120 g");
    const order = (await owner.get("/trace/orders/1")).body;
    expect(headingOf(order)).toBe("W-104 for The Lamplit Otter: 17 pieces from one lot.");
    expect(textOf(order)).toContain("Soda SABCD L-77 120 g");
  });

  it("is saved as a list of whom to call, in which nothing is taken for a formula", async () => {
    await database.sql`update customers set name = '=1+1'`;
    const { body, headers } = await owner.get("/trace/supply-lots/1/orders.csv");
    expect(headers["content-disposition"]).toBe('attachment; filename="trace-sabcd.csv"');
    expect(body.split("\r\n").slice(0, 2)).toEqual([
      "\uFEFFlot,product,order,customer,contact,address,packed_here,left,came_home,last_left_on",
      `K7Q,Cedar ball,W-104,'=1+1,"Odile Marsh, =555 0101",,5,12,0,2027-03-01`,
    ]);
    expect((await owner.get("/trace/lots/1/orders.csv")).body).toBe(body);
  });
});
