import {
  insertContact,
  insertCustomer,
  insertPerson,
  insertPlan,
  insertProduct,
  insertRun,
} from "../build/rows.ts";
import type { TestDatabase } from "../db/testDatabase.ts";

const AT = "2027-03-01T12:00:00Z";

/**
 * 500 g of soda SABCD, of which 120 g went into two batches. The first gave 60 pieces of K7Q: 17 packed for W-104 of the
 * Lamplit Otter, of which 12 left, and 20 taken to the market on Walrus Green with M-101, of which 8 came home; 31 are on
 * the shelf. The second, D4R, is in its bowl.
 */
export async function insertRecalledSoda({ db, sql }: TestDatabase) {
  const planId = await insertPlan(db, {
    personId: await insertPerson(db, { name: "Pip" }),
    state: "proposed",
  });
  const productId = await insertProduct(db, { code: "cedar/ball-60", name: "Cedar ball" });
  const [product] = await sql`select blend_id from products`;
  const first = await insertRun(db, {
    ...{ planId, blendId: product?.blend_id },
    lots: [{ productId, units: 60, code: "K7Q" }],
  });
  const second = await insertRun(db, {
    ...{ planId, blendId: product?.blend_id, state: "mixing", startedAt: new Date(AT) },
    lots: [{ productId, units: 40, code: "D4R" }],
  });
  const [lotId = 0] = first.lotIds;
  const [mixingLotId = 0] = second.lotIds;
  await sql`update lots set state = 'ready', formed_at = ${AT}, unmold_due_at = ${AT}, ready_due_at = ${AT},
    unmolded_at = ${AT}, ready_at = ${AT} where id = ${lotId}`;
  await sql`update lots set state = 'mixing' where id = ${mixingLotId}`;
  const [supply] = await sql`insert into supplies (name, kind) values ('Soda', 'soda') returning id`;
  const [bag] = await sql`insert into supply_lots (code, supply_id, supplier_lot, received_on, created_at)
    values ('SABCD', ${supply?.id}, 'L-77', '2027-02-01', ${AT}) returning id`;
  await sql`insert into supply_moves (supply_id, lot_id, kind, amount, run_id, at) values
    (${supply?.id}, ${bag?.id}, 'received', 500000, null, ${AT}),
    (${supply?.id}, ${bag?.id}, 'used', -70000, ${first.runId}, ${AT}),
    (${supply?.id}, ${bag?.id}, 'used', -50000, ${second.runId}, ${AT})`;
  await sql`insert into moves (lot_id, kind, units, at) values (${lotId}, 'made', 60, ${AT})`;
  const otter = await insertCustomer(db, { name: "The Lamplit Otter", address: "3 Wick Lane" });
  await insertContact(db, { customerId: otter, name: "Odile Marsh", phone: "=555 0101" });
  const green = await insertCustomer(db, { name: "Walrus Green", kind: "market" });
  const shop = await sendOrder(sql, {
    customerId: otter,
    reference: "W-104",
    productId,
    lotId,
    packed: 17,
    left: 12,
  });
  const stall = await sendOrder(sql, {
    customerId: green,
    reference: "M-101",
    productId,
    lotId,
    packed: 20,
    left: 20,
  });
  await sql`insert into markets (customer_id, held_on, opens_minute, closes_minute, order_id, created_at)
    values (${green}, '2027-03-06', 480, 840, ${stall.orderId}, ${AT})`;
  await sql`insert into moves (lot_id, kind, units, delivery_id, at)
    values (${lotId}, 'returned', 8, ${stall.deliveryId}, ${AT})`;
  const [supplyLotId, supplyId]: readonly number[] = [bag?.id, supply?.id];
  if (supplyLotId === undefined || supplyId === undefined) throw new Error("The soda was not entered");
  return {
    lotId,
    mixingLotId,
    ...{ supplyLotId, supplyId, runId: first.runId, productId, otter, green },
    ...shop,
  };
}

async function sendOrder(
  sql: TestDatabase["sql"],
  order: {
    readonly customerId: number;
    readonly reference: string;
    readonly productId: number;
    readonly lotId: number;
    readonly packed: number;
    readonly left: number;
  },
) {
  const { customerId, reference, productId, lotId, packed, left } = order;
  const [row] =
    await sql`insert into orders (reference, customer_id, terms, ship_by, weight, state, created_at, confirmed_at)
    values (${reference}, ${customerId}, 'as-ready', '2027-03-05', 1, 'packing', ${AT}, ${AT}) returning id`;
  const [line] = await sql`insert into order_lines (order_id, product_id, units)
    values (${row?.id}, ${productId}, 40) returning id`;
  await sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lotId}, 'packed', ${-packed}, ${line?.id}, ${AT})`;
  const [delivery] = await sql`insert into deliveries (order_id, how, state, shipped_at)
    values (${row?.id}, 'parcel', 'shipped', ${AT}) returning id`;
  await sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
    values (${delivery?.id}, ${line?.id}, ${lotId}, ${left})`;
  const [orderId, lineId, deliveryId]: readonly number[] = [row?.id, line?.id, delivery?.id];
  if (orderId === undefined || lineId === undefined || deliveryId === undefined)
    throw new Error("The order was not entered");
  return { orderId, lineId, deliveryId };
}
