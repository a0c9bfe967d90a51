import postgres from "postgres";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { invoices } from "../../db/schema/invoices.ts";
import { inTransaction } from "../../db/transaction.ts";
import { minorUnits } from "../../server/money/minorUnits.ts";
import { orderTotals } from "../../server/money/orderTotals.ts";
import { changeOrder } from "../../server/orders/changeOrder.ts";
import { fingerprintOf } from "../../server/orders/content.ts";
import { findOrder, listLines } from "../../server/orders/oneOrder.ts";
import { writeCredit } from "../../server/papers/writeCredit.ts";
import { writeInvoice } from "../../server/papers/writeInvoice.ts";
import { insertCustomer, insertPerson, insertWorkshop } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { untilWaiting } from "../db/untilWaiting.ts";
import {
  carriesOut,
  emptyCountingRoom,
  given,
  insertPricedOrder,
  letLeave,
  NOON,
  type Range,
} from "./countingRoom.ts";

const database = useDatabase();
let range: Range;
let run: ReturnType<typeof carriesOut>;
let personId: number;

beforeAll(async () => {
  await insertWorkshop(database.db);
  personId = await insertPerson(database.db, { name: "Wren Oddfellow", role: "owner" });
  run = carriesOut(database, personId);
});

beforeEach(async () => {
  range = await emptyCountingRoom(database);
});

const bill = (orderId: number, basis: "left" | "whole" = "left", at = NOON) =>
  run(writeInvoice, { orderId, basis }, at);

async function billed(orderId: number, basis: "left" | "whole" = "left", at = NOON): Promise<number> {
  return given(await bill(orderId, basis, at)).invoiceId;
}

interface InvoiceRow {
  readonly net: string;
  readonly tax: string;
  readonly gross: string;
}

const sumsOf = (orderId: number) => database.sql<InvoiceRow[]>`
  select net_minor as net, tax_minor as tax, gross_minor as gross from invoices where order_id = ${orderId} order by id`;

const numbers = async () =>
  (await database.sql`select kind, year, number from invoices order by id`).map(
    ({ kind, year, number }) => `${kind === "invoice" ? "" : "C"}${year}-${number}`,
  );

/** Twelve cedar balls at 3.90 and twelve oat pucks at 2.50: 76.80. */
const plain = {
  lines: [
    { units: 12, unitPriceMinor: 390 },
    { units: 12, unitPriceMinor: 250 },
  ],
};

describe("an invoice", () => {
  it("comes to what its order comes to, in currencies of no, two and three decimals, however they round", async () => {
    const lines = [
      { units: 37, unitPriceMinor: 1333, discountBasisPoints: 333, taxPpm: 88_750 },
      { units: 11, unitPriceMinor: 2999, discountBasisPoints: 0, taxPpm: 190_000 },
    ];
    let count = 0;
    for (const currency of ["JPY", "EUR", "KWD"])
      for (const rounding of ["line", "order"] as const)
        for (const pricesIncludeTax of [false, true]) {
          const order = { discountBasisPoints: 725, shippingMinor: 799, shippingTaxPpm: 190_000 };
          const { orderId } = await insertPricedOrder(database, range, {
            ...{
              reference: `W-${currency}-${rounding}-${pricesIncludeTax}`,
              currency,
              rounding,
              pricesIncludeTax,
              ...order,
              lines,
            },
          });
          await billed(orderId, "whole");
          count += 1;
          const totals = orderTotals({
            ...{ rounding, pricesIncludeTax, ...order, shippingMinor: minorUnits(order.shippingMinor) },
            lines: lines.map((line) => ({ ...line, unitPriceMinor: minorUnits(line.unitPriceMinor) })),
          });
          expect(await sumsOf(orderId)).toEqual([
            { net: String(totals.netMinor), tax: String(totals.taxMinor), gross: String(totals.grossMinor) },
          ]);
        }
    expect(count).toBe(12);
  });

  it("bills what has left, part by part, and all parts come to the order", async () => {
    const order = await insertPricedOrder(database, range, {
      ...{ discountBasisPoints: 333, shippingMinor: 790, shippingTaxPpm: 190_000, rounding: "order" },
      lines: [
        { units: 7, unitPriceMinor: 1333, taxPpm: 190_000 },
        { units: 5, unitPriceMinor: 999, discountBasisPoints: 500, taxPpm: 70_000 },
      ],
    });
    for (const [part, units] of [
      [3, 0],
      [2, 4],
      [2, 1],
    ].entries()) {
      await letLeave(database, range, order, units, new Date(NOON.getTime() + part * 86_400_000));
      await billed(order.orderId, "left", new Date(NOON.getTime() + part * 86_400_000 + 1));
    }
    const totals = orderTotals({
      ...{ discountBasisPoints: 333, shippingMinor: minorUnits(790), shippingTaxPpm: 190_000 },
      ...{ pricesIncludeTax: false, rounding: "order" },
      lines: [
        { units: 7, unitPriceMinor: minorUnits(1333), discountBasisPoints: 0, taxPpm: 190_000 },
        { units: 5, unitPriceMinor: minorUnits(999), discountBasisPoints: 500, taxPpm: 70_000 },
      ],
    });
    const parts = await sumsOf(order.orderId);
    const sum = (of: keyof InvoiceRow) => parts.reduce((total, part) => total + Number(part[of]), 0);
    expect([sum("net"), sum("tax"), sum("gross")]).toEqual([
      totals.netMinor,
      totals.taxMinor,
      totals.grossMinor,
    ]);
    expect((await bill(order.orderId)).ok).toBe(false);
    const shipping = await database.sql`select invoice_id from invoice_lines where kind = 'shipping'`;
    expect(shipping.length).toBe(1);
    const left = await database.sql`select left_on::text[] as left_on from invoices order by id`;
    expect(left.map(({ left_on }) => left_on)).toEqual([["2027-03-01"], ["2027-03-02"], ["2027-03-03"]]);
  });

  it("keeps every line of the order with what was ordered and sent, those too of which nothing is billed", async () => {
    const order = await insertPricedOrder(database, range, plain);
    await letLeave(database, range, order, [10, 0]);
    await billed(order.orderId);
    const lines =
      await database.sql`select what, ordered_units, sent_units, units, gross_minor from invoice_lines order by id`;
    expect(lines).toEqual([
      { what: "Cedar ball", ordered_units: 12, sent_units: 10, units: 10, gross_minor: "3900" },
      { what: "Oat puck", ordered_units: 12, sent_units: 0, units: 0, gross_minor: "0" },
    ]);
  });

  it("is due by the customer's terms and keeps names, heading and prices as they were", async () => {
    await database.sql`update customers set early_discount_basis_points = 200, early_discount_days = 10`;
    await database.sql`insert into letterhead (name, address) values ('Tidepool', 'Shingle 4')`;
    const { orderId } = await insertPricedOrder(database, range, plain);
    const invoiceId = await billed(orderId, "whole");
    const written = await database.sql`select * from invoices where id = ${invoiceId}`;
    await database.sql`update letterhead set name = 'Another', address = ''`;
    await database.sql`update customers set name = 'Renamed', address = '', net_days = 14`;
    expect(await database.sql`select * from invoices where id = ${invoiceId}`).toEqual(written);
    expect(written[0]).toMatchObject({
      ...{ seller_name: "Tidepool", seller_address: "Shingle 4", customer_name: "The Lamplit Otter" },
      ...{ early_discount_minor: "154", order_reference: "W-104", number: 1 },
    });
    const [dates] = await database.sql`select due_on::text, early_until::text from invoices`;
    expect(dates).toEqual({ due_on: "2027-03-31", early_until: "2027-03-11" });
  });

  it("is refused where there is nothing that could be billed", async () => {
    const why = async (given: Parameters<typeof insertPricedOrder>[2], basis: "left" | "whole" = "left") => {
      const { orderId } = await insertPricedOrder(database, range, given);
      const answer = await bill(orderId, basis);
      await database.sql`delete from orders where id = ${orderId}`;
      return answer.ok ? "written" : answer.refusal.why;
    };
    const unpriced = {
      pricedAt: null,
      currency: null,
      pricesIncludeTax: null,
      rounding: null,
      shippingTaxPpm: null,
    };
    expect(await why(plain)).toBe("nothing-to-bill");
    expect(await why({ ...plain, ...unpriced }, "whole")).toBe("no-prices");
    expect(await why({ ...plain, ...unpriced, state: "draft", confirmedAt: null }, "whole")).toBe("draft");
    expect(await why({ ...plain, terms: "market" }, "whole")).toBe("market");
    expect(await why({ ...plain, state: "cancelled", cancelledAt: NOON }, "whole")).toBe("cancelled");
    expect(await bill(9999)).toEqual({ ok: false, refusal: { why: "not-found" } });
  });

  it("cannot be changed, removed or added to, whoever tries", async () => {
    const order = await insertPricedOrder(database, range, plain);
    const invoiceId = await billed(order.orderId, "whole");
    const { sql } = database;
    const written = { code: "23001" };
    await expect(sql`update invoices set gross_minor = 1, net_minor = 1`).rejects.toMatchObject(written);
    await expect(sql`delete from invoices`).rejects.toMatchObject(written);
    await expect(sql`update invoice_lines set what = 'Another'`).rejects.toMatchObject(written);
    await expect(sql`delete from invoice_lines`).rejects.toMatchObject(written);
    await expect(sql`insert into invoice_lines (invoice_id, kind, what, unit_price_minor, discount_basis_points, tax_ppm,
      amount_minor, order_discount_minor, net_minor, tax_minor, gross_minor)
      values (${invoiceId}, 'shipping', 'Shipping', 5, 0, 0, 5, 0, 5, 0, 5)`).rejects.toMatchObject({
      constraint_name: "invoices_add_up",
    });
  });

  it("never bills a line beyond what is ordered, whoever writes", async () => {
    const order = await insertPricedOrder(database, range, plain);
    await billed(order.orderId, "whole");
    await expect(database.sql`insert into invoice_lines (invoice_id, kind, order_line_id, what, units, unit_price_minor,
      discount_basis_points, tax_ppm, amount_minor, order_discount_minor, net_minor, tax_minor, gross_minor)
      select invoice_id, 'goods', order_line_id, what, 1, 0, 0, 0, 0, 0, 0, 0, 0 from invoice_lines limit 1`).rejects.toMatchObject(
      { constraint_name: "invoice_lines_never_over_billed" },
    );
  });

  it("is written once where two bill the same pieces at the same time", async () => {
    const order = await insertPricedOrder(database, range, plain);
    const answers = await overlapping(
      database.sql,
      (gate) => gate`select from orders where id = ${order.orderId} for update`,
      [() => bill(order.orderId, "whole"), () => bill(order.orderId, "whole")],
    );
    expect(answers.filter(({ ok }) => ok).length).toBe(1);
    expect(await numbers()).toEqual(["2027-1"]);
  });

  it("holds its order to the customer it names, and its lines to their place", async () => {
    const order = await insertPricedOrder(database, range, plain);
    await billed(order.orderId, "whole");
    const other = await insertCustomer(database.db, { name: "Heron & Thimble", netDays: 30 });
    const change = async (customerId: number, lines: readonly { productId: number; units: number }[]) => {
      const head = await findOrder(database.db, order.orderId);
      if (!head) throw new Error("There is no such order");
      const seen = fingerprintOf({ ...head, draft: false, lines: await listLines(database.db, head.id) });
      const content = { reference: head.reference, terms: null, shipBy: head.shipBy, note: "", seen };
      return await run(changeOrder, { orderId: head.id, customerId, lines, ...content });
    };
    const [cedar, oat] = range.products;
    const both = [
      { productId: cedar, units: 12 },
      { productId: oat, units: 12 },
    ];
    expect(await change(other, both)).toEqual({ ok: false, refusal: { why: "fixed-once-billed" } });
    expect((await change(range.customerId, both.slice(0, 1))).ok).toBe(true);
    expect(await database.sql`select units from order_lines order by id`).toEqual([
      { units: 12 },
      { units: 0 },
    ]);
  });
});

describe("the numbers", () => {
  it("follow each other without a gap where four write at once, over the turn of a year", async () => {
    const written: Promise<unknown>[] = [];
    for (let client = 0; client < 4; client += 1)
      written.push(
        (async () => {
          for (let turn = 0; turn < 6; turn += 1) {
            const reference = `W-${client}-${turn}`;
            const { orderId } = await insertPricedOrder(database, range, { ...plain, reference });
            const at = new Date(turn < 3 ? "2027-12-31T12:00:00Z" : "2028-01-01T12:00:00Z");
            const invoiceId = await billed(orderId, "whole", at);
            // Every other one is refused after it has begun, every third is corrected.
            await bill(orderId, "whole", at);
            if (turn % 3 === 0) await creditAll(invoiceId, at);
          }
        })(),
      );
    await Promise.all(written);
    const rows = await database.sql`select kind, year, array_agg(number order by number) as numbers
      from invoices group by kind, year order by kind, year`;
    const to = (last: number) => Array.from({ length: last }, (_, place) => place + 1);
    expect(rows).toEqual([
      { kind: "credit-note", year: 2027, numbers: to(4) },
      { kind: "credit-note", year: 2028, numbers: to(4) },
      { kind: "invoice", year: 2027, numbers: to(12) },
      { kind: "invoice", year: 2028, numbers: to(12) },
    ]);
  });

  it("leave no hole where a writer's connection is ended in the middle, and those who waited go on", async () => {
    const first = await insertPricedOrder(database, range, { ...plain, reference: "W-1" });
    const second = await insertPricedOrder(database, range, { ...plain, reference: "W-2" });
    await billed(first.orderId, "whole");
    const client = postgres(database.url, { max: 1, onnotice: () => {} });
    const dying = await client.reserve();
    const [me] = await dying`select pg_backend_pid() as pid`;
    // The number is taken, the transaction does not end.
    await dying`begin`;
    await dying`insert into invoices (kind, year, order_id, customer_id, basis, issued_on, net_days, due_on,
            seller_name, seller_address, seller_tax_number, seller_bank, payment_words, footer, customer_name, customer_address,
            order_reference, customer_reference, left_on, currency, prices_include_tax, discount_basis_points, goods_minor,
            discount_minor, net_minor, tax_minor, gross_minor, created_at)
          select kind, year, order_id, customer_id, basis, issued_on, net_days, due_on, seller_name, seller_address,
            seller_tax_number, seller_bank, payment_words, footer, customer_name, customer_address, order_reference,
            customer_reference, left_on, currency, prices_include_tax, discount_basis_points, goods_minor, discount_minor,
            net_minor, tax_minor, gross_minor, created_at from invoices`;
    const waiting = billed(second.orderId, "whole");
    await untilWaiting(database.sql, 1);
    await database.sql`select pg_terminate_backend(${me?.pid})`;
    await waiting;
    expect(await numbers()).toEqual(["2027-1", "2027-2"]);
    await client.end({ timeout: 1 });
  });

  it("are not lost to who is refused at the commit", async () => {
    const { orderId } = await insertPricedOrder(database, range, plain);
    const rows = await database.db.select().from(invoices);
    expect(rows).toEqual([]);
    const broken = inTransaction(database.db, async (transaction) => {
      given(await writeInvoice(transaction, { personId, at: NOON }, { orderId, basis: "whole" }));
      throw new Error("The power went");
    });
    await expect(broken).rejects.toThrow("The power went");
    await billed(orderId, "whole");
    expect(await numbers()).toEqual(["2027-1"]);
  });
});

async function creditAll(invoiceId: number, at = NOON, billAgain = false): Promise<number> {
  const lines =
    await database.sql`select id, units from invoice_lines where invoice_id = ${invoiceId} order by id`;
  const takes = lines.map(({ id, units }, place) => ({ lineId: id, units: units ?? 1, place }));
  return given(await run(writeCredit, { invoiceId, reason: "Wrong", billAgain, takes }, at)).invoiceId;
}

describe("a credit note", () => {
  const parted = {
    ...{ shippingMinor: 790, shippingTaxPpm: 190_000, discountBasisPoints: 333 },
    lines: [
      { units: 7, unitPriceMinor: 1333, taxPpm: 190_000 },
      { units: 12, unitPriceMinor: 250 },
    ],
  };

  it("has a number of its own, and of all lines comes to the invoice", async () => {
    const { orderId } = await insertPricedOrder(database, range, parted);
    const invoiceId = await billed(orderId, "whole");
    await creditAll(invoiceId);
    expect(await numbers()).toEqual(["2027-1", "C2027-1"]);
    const [invoice, credit] = await sumsOf(orderId);
    expect(credit).toEqual(invoice);
    const [balance] = await database.sql`select credited_minor, open_minor from invoice_balances`;
    expect(balance).toEqual({ credited_minor: invoice?.gross, open_minor: "0" });
  });

  it("of some pieces after others comes to the line in the end, and no further", async () => {
    const { orderId } = await insertPricedOrder(database, range, parted);
    const invoiceId = await billed(orderId, "whole");
    const [line] =
      await database.sql`select id, gross_minor from invoice_lines where invoice_id = ${invoiceId} order by id`;
    const credit = (units: number) =>
      run(writeCredit, {
        invoiceId,
        reason: "Cracked",
        billAgain: false,
        takes: [{ lineId: line?.id, units, place: 0 }],
      });
    for (const units of [2, 4, 1]) given(await credit(units));
    const [sum] =
      await database.sql`select sum(gross_minor)::bigint as gross from invoice_lines where credits_line_id = ${line?.id}`;
    expect(sum?.gross).toBe(line?.gross_minor);
    expect(await credit(1)).toEqual({
      ok: false,
      refusal: { why: "more-than-billed", place: 0, left: 0, shipping: false },
    });
  });

  it("never comes above what was billed where two credit at once", async () => {
    const { orderId } = await insertPricedOrder(database, range, plain);
    const invoiceId = await billed(orderId, "whole");
    const [line] = await database.sql`select id from invoice_lines order by id`;
    const credit = () =>
      run(writeCredit, {
        invoiceId,
        reason: "Cracked",
        billAgain: false,
        takes: [{ lineId: line?.id, units: 7, place: 0 }],
      });
    const answers = await overlapping(
      database.sql,
      (gate) => gate`select from invoices where id = ${invoiceId} for update`,
      [credit, credit],
    );
    expect(answers.map(({ ok }) => ok).sort()).toEqual([false, true]);
  });

  it("is held to that by the database, too", async () => {
    const { orderId } = await insertPricedOrder(database, range, plain);
    const invoiceId = await billed(orderId, "whole");
    const creditId = await creditAll(invoiceId);
    await expect(database.sql`insert into invoice_lines (invoice_id, kind, order_line_id, credits_line_id, what, units,
        unit_price_minor, discount_basis_points, tax_ppm, amount_minor, order_discount_minor, net_minor, tax_minor, gross_minor)
      select ${creditId}, kind, order_line_id, id, what, 1, 0, 0, 0, 0, 0, 0, 0, 0 from invoice_lines
      where invoice_id = ${invoiceId} limit 1`).rejects.toMatchObject({
      constraint_name: "invoice_lines_never_over_credited",
    });
  });

  it("lets its pieces be billed anew where it says so, and else not", async () => {
    const order = await insertPricedOrder(database, range, parted);
    await letLeave(database, range, order, [7, 12]);
    await creditAll(await billed(order.orderId), NOON, true);
    const again = await billed(order.orderId);
    const [first, , third] = await sumsOf(order.orderId);
    expect(third).toEqual(first);
    const [left] = await database.sql`select left_on::text[] as left_on from invoices where id = ${again}`;
    expect(left?.left_on).toEqual(["2027-03-01"]);
    await creditAll(again, NOON, false);
    expect(await bill(order.orderId)).toEqual({
      ok: false,
      refusal: { why: "nothing-to-bill", basis: "left" },
    });
  });

  it("corrects an invoice, and nothing else", async () => {
    const { orderId } = await insertPricedOrder(database, range, plain);
    const creditId = await creditAll(await billed(orderId, "whole"));
    const takes = [{ lineId: 1, units: 1, place: 0 }];
    expect(await run(writeCredit, { invoiceId: creditId, reason: "x", billAgain: false, takes })).toEqual({
      ok: false,
      refusal: { why: "not-found" },
    });
  });
});

describe("the currency", () => {
  it("stays with what was billed", async () => {
    const { orderId } = await insertPricedOrder(database, range, plain);
    await billed(orderId, "whole");
    await database.sql`update order_lines set unit_price_minor = null`;
    await expect(database.sql`update workshop set currency = 'JPY'`).rejects.toMatchObject({
      constraint_name: "workshop_keeps_its_currency",
    });
  });
});
