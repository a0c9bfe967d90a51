import { Writable } from "node:stream";
import { beforeEach, describe, expect, it } from "vitest";
import { buildApp } from "../../server/app.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { findLink } from "../../server/stockist/findLink.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertOrder } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { overlapping } from "../db/overlapping.ts";
import { ordersNow, useDesk } from "../orders/desk.ts";

const { application, desk } = useDesk();

/** The address of a shop's page, made by the owner. */
async function openPage(customerId: number, options: { readonly formToken?: string } = {}): Promise<string> {
  const page = `/setup/customers/${customerId}/order-page`;
  const made = await desk().owner.post(page, {}, { from: page, ...options });
  return />http:\/\/[^/]+(\/stockist\/[\w-]{43})<\/textarea>/.exec(made.body)?.[1] ?? textOf(made.body);
}

let address: string;
let shop: Visitor;
beforeEach(async () => {
  shop = application.stranger();
  address = await openPage(desk().otter);
  const { cedar } = desk();
  const { sql } = application.database;
  await sql`delete from list_prices`;
  await sql`delete from price_lists`;
  await sql`insert into price_lists (name, kind, usual, includes_tax) values ('Wholesale', 'wholesale', true, false)`;
  await sql`insert into list_prices (price_list_id, product_id, unit_price_minor, valid_from)
    select price_lists.id, products.id, case products.id when ${cedar} then 250 else 300 end, '2027-01-01'
    from price_lists, products where products.name <> 'Black tea ball'`;
  await sql`insert into case_packs (shape_id, units) select id, 12 from shapes`;
});

function asked(units: Readonly<Record<number, string>>, given: Readonly<Record<string, string>> = {}) {
  return {
    needed_by: "2027-03-12",
    customer_reference: "PO 77",
    note: "With a bow",
    product: Object.keys(units),
    units: Object.values(units),
    do: "send",
    ...given,
  };
}

const send = (fields: ReturnType<typeof asked>, options: { readonly formToken?: string } = {}) =>
  shop.post(address, fields, { from: address, ...options });

describe("a shop's own order page", () => {
  it("offers what has a price for the shop, with its price and its cases, to whoever has the address", async () => {
    const page = await shop.get(address);
    expect(page.statusCode).toBe(200);
    expect(headingOf(page.body)).toBe("What may we make for The Lamplit Otter?");
    expect(textOf(page.body)).toMatch(/Cedar ball \S*2\.50, in cases of 12/);
    expect(page.body).not.toContain("Black tea ball");
    expect(page.body).not.toMatch(/href="\/(week|orders|setup|sign-in)/);
  });

  it("keeps its address to itself", async () => {
    const { headers, body } = await shop.get(address);
    expect(headers).toMatchObject({
      "cache-control": "no-store",
      "referrer-policy": "no-referrer",
      "x-robots-tag": "noindex, nofollow",
    });
    expect(body).not.toMatch(/(?:href|src|action)="https?:/);
    const secret = address.replace("/stockist/", "");
    const sent = await send(asked({ [desk().cedar]: "12" }));
    expect(sent.statusCode).toBe(303);
    const tables = await application.database.sql<{ row: string }[]>`
      select row_to_json(stockist_links)::text as row from stockist_links
      union all select row_to_json(form_receipts)::text from form_receipts
      union all select row_to_json(changes)::text from changes
      union all select row_to_json(orders)::text from orders`;
    expect(tables.filter(({ row }) => row.includes(secret))).toEqual([]);
  });

  it("is not written into the log, neither when it works nor when it fails", async () => {
    const lines: string[] = [];
    const stream = new Writable({
      write: (chunk, _encoding, done) => {
        lines.push(String(chunk));
        done();
      },
    });
    const planner = createPlanner({ searchSeconds: 0.1, holdUpSeconds: 0.1, threads: 1 });
    const { db } = application.database;
    const app = await buildApp({
      ...{ db, clock: application.clock, planner, log: { level: "info", stream } },
      ...{ sessionSecret: "a secret for tests only, long enough", secureCookies: false, trustProxy: false },
    });
    expect((await app.inject({ url: address })).statusCode).toBe(200);
    expect((await app.inject({ url: address, method: "POST" })).statusCode).toBe(403);
    await app.close();
    await planner.close();
    expect(lines.length).toBeGreaterThan(0);
    expect(lines.filter((line) => line.includes(address.replace("/stockist/", "")))).toEqual([]);
  });

  it("makes a draft that waits for the owner, under a reference the shop sees", async () => {
    const sent = await send(asked({ [desk().cedar]: "24", [desk().oat]: "" }));
    expect(String(sent.headers.location)).toMatch(new RegExp(`^${address}/orders/[A-Z0-9]{4}-[A-Z0-9]{4}$`));
    const page = await shop.get(String(sent.headers.location));
    const reference = String(sent.headers.location).split("/").at(-1);
    expect(headingOf(page.body)).toBe(`${reference}, 24 pieces: waits for our answer.`);
    expect(textOf(page.body)).toMatch(/With a bow.*24 Cedar ball.*60\.00/);
    expect(await ordersNow(application)).toEqual(["W-101 draft complete 2027-03-12: 24 Cedar ball"]);
    const owners = textOf((await desk().owner.get("/orders")).body);
    expect(owners).toContain("One draft waits for your yes W-101 The Lamplit Otter sent from its order page");
    const [order] = await application.database.sql`select id from orders`;
    const order1 = textOf((await desk().owner.get(`/orders/${order?.id}`)).body);
    for (const words of [reference, "PO 77", "With a bow"]) expect(order1).toContain(words);
  });

  it("makes one of what is sent twice", async () => {
    const formToken = crypto.randomUUID();
    const fields = asked({ [desk().cedar]: "24" });
    const answers = [await send(fields, { formToken }), await send(fields, { formToken })];
    expect(new Set(answers.map(({ headers }) => headers.location)).size).toBe(1);
    expect(await ordersNow(application)).toHaveLength(1);
  });

  it("is filled in from an older order of the shop's own, but for its dates and what is no longer on offer", async () => {
    const { otter, heron, cedar, tea } = desk();
    const lines = [
      { productId: cedar, units: 36 },
      { productId: tea, units: 12 },
    ];
    await insertOrder(application.database.db, { customerId: otter, reference: "W-31", lines });
    await insertOrder(application.database.db, { customerId: heron, reference: "W-32", lines });
    const older = await shop.get(`${address}/orders/W-31`);
    expect(older.body).toContain(`href="${address}?again=W-31"`);
    const again = await shop.get(`${address}?again=W-31`);
    expect(textOf(again.body)).toContain(
      "Filled in from W-31; say when you need it. No longer on offer, so left out: Black tea ball.",
    );
    expect(again.body).toMatch(new RegExp(`id="lines.${cedar}" name="units" value="36"`));
    expect(textOf(again.body)).toMatch(/36 pieces Goods \S*90\.00/);
    for (const another of ["W-32", "nothing", "%00", "W-31&again=W-32"])
      expect(textOf((await shop.get(`${address}?again=${another}`)).body)).not.toContain("Filled in from");
    expect((await shop.get(`${address}/orders/%00`)).statusCode).toBe(404);
  });

  it("offers the nearest right numbers and takes nothing else", async () => {
    const { cedar, oat } = desk();
    const sent = await send(asked({ [cedar]: "30", [oat]: "5" }));
    expect(sent.statusCode).toBe(422);
    expect(sent.body).toMatch(
      new RegExp(`id="lines\\.${cedar}-mistake">Sold in cases of 12: 24 or 36, not 30\\.`),
    );
    expect(sent.body).toContain("Sold in cases of 12: 12, not 5.");
    expect(await ordersNow(application)).toEqual([]);
  });

  it("holds an order against the least this shop may order", async () => {
    await application.database.sql`update customers set least_order_minor = 6000 where id = ${desk().otter}`;
    const less = await send(asked({ [desk().cedar]: "12" }));
    expect(textOf(less.body)).toMatch(/Orders begin at \S*60\.00; so far it comes to \S*30\.00\./);
    expect((await send(asked({ [desk().cedar]: "24" }))).statusCode).toBe(303);
  });

  it("takes no order for what is not offered to this shop, nor for yesterday", async () => {
    const tea = await send(asked({ [desk().tea]: "12" }));
    expect(textOf(tea.body)).toContain("is no longer on offer");
    const late = await send(asked({ [desk().cedar]: "12" }, { needed_by: "2027-02-28" }));
    expect(textOf(late.body)).toContain("choose a later day");
    expect(await ordersNow(application)).toEqual([]);
  });

  it("reckons up what is being typed, and says when or that we write", async () => {
    const fragment = { headers: { "hx-request": "true" }, from: address };
    const sums = await shop.post(`${address}/reckoning`, asked({ [desk().cedar]: "24" }), fragment);
    expect(textOf(sums.body)).toMatch(/^24 pieces Goods \S*60\.00 To pay \S*60\.00$/);
    const wrong = await shop.post(`${address}/reckoning`, asked({ [desk().cedar]: "30" }), fragment);
    expect(textOf(wrong.body)).toContain("Cedar ball: Sold in cases of 12: 24 or 36, not 30.");
    const when = await shop.post(`${address}/promise`, asked({ [desk().cedar]: "24" }), fragment);
    // Without a working week there is no plan, and no date to give.
    expect(textOf(when.body)).toBe("We will write to you when you can have it.");
  });

  it("buries nobody: a link has at most twenty drafts waiting", async () => {
    const { otter, cedar } = desk();
    const [link] = await application.database.sql`select id from stockist_links where withdrawn_at is null`;
    for (let place = 0; place < 20; place += 1)
      await insertOrder(application.database.db, {
        ...{ reference: `W-2${place}`, customerId: otter, state: "draft", confirmedAt: null },
        ...{ source: "stockist", stockistLinkId: Number(link?.id), shopReference: `TEST-${place}` },
        lines: [{ productId: cedar, units: 12 }],
      });
    const sent = await send(asked({ [cedar]: "12" }));
    expect([sent.statusCode, textOf(sent.body)]).toEqual([
      422,
      expect.stringContaining("wait for our answer already"),
    ]);
    expect(await application.database.sql`select 1 from orders`).toHaveLength(20);
  });
});

describe("an address that leads nowhere", () => {
  it("answers the same page, whether it never did, was withdrawn or renewed, or its shop is retired", async () => {
    const never = await shop.get(`/stockist/${"A".repeat(43)}`);
    expect([never.statusCode, headingOf(never.body)]).toEqual([
      404,
      "There is no order page at this address.",
    ]);
    const renewed = await openPage(desk().otter);
    expect((await shop.get(address)).body).toBe(never.body);
    const page = `/setup/customers/${desk().otter}/order-page`;
    await desk().owner.post(`${page}/withdrawal`, {}, { from: page });
    expect((await shop.get(renewed)).body).toBe(never.body);
    const heron = await openPage(desk().heron);
    expect((await shop.get(heron)).statusCode).toBe(200);
    await application.database.sql`update customers set retired_at = now()`;
    const retired = await shop.get(heron);
    expect([retired.statusCode, retired.body]).toEqual([404, never.body]);
    for (const odd of ["/stockist/1", "/stockist/%00", `/stockist/${"9".repeat(5000)}`])
      expect((await shop.get(odd)).body).toBe(never.body);
  });

  it("takes no order that comes while it is being withdrawn", async () => {
    const csrf = await shop.csrfToken(address);
    const { sql } = application.database;
    const body = new URLSearchParams({ _csrf: csrf, form_token: crypto.randomUUID() });
    for (const [name, value] of Object.entries(asked({ [desk().cedar]: "12" })))
      for (const one of [value].flat()) body.append(name, one);
    const headers = { "content-type": "application/x-www-form-urlencoded" };
    const [answer] = await overlapping(
      sql,
      (gate) =>
        gate`update stockist_links set withdrawn_at = now(), withdrawn_by = made_by where withdrawn_at is null`,
      [() => shop.send({ method: "POST", url: address, headers, payload: body.toString() })],
    );
    expect(answer?.statusCode).toBe(404);
    expect(await ordersNow(application)).toEqual([]);
  });
});

describe("the owner", () => {
  it("sees an address once: the form sent again shows it no more, and makes no other", async () => {
    const formToken = crypto.randomUUID();
    const first = await openPage(desk().heron, { formToken });
    expect(first).toMatch(/^\/stockist\//);
    expect(await openPage(desk().heron, { formToken })).toContain("was shown once");
    expect(await findLink(application.database.db, first.replace("/stockist/", ""))).toMatchObject({
      shop: "Heron & Thimble",
    });
  });

  it("makes no page for a market", async () => {
    expect(await openPage(desk().quayside)).toContain("It was not made.");
    expect((await desk().owner.get("/setup/customers/99999/order-page")).statusCode).toBe(404);
  });
});

describe("nothing of anybody else", () => {
  it("is shown on any page or answer, though one walks with every id and reference of another shop", async () => {
    const { heron, cedar, oat, tea } = desk();
    const { db, sql } = application.database;
    await sql`update customers set notes = 'PRIVATE notes', address = 'PRIVATE lane' where id = ${heron}`;
    await sql`insert into own_prices (customer_id, product_id, unit_price_minor, valid_from)
      values (${heron}, ${tea}, 66677, '2027-01-01')`;
    for (const [place, state] of (["draft", "confirmed", "cancelled"] as const).entries())
      await insertOrder(db, {
        ...{
          customerId: heron,
          reference: `PRIVATE-${place}`,
          note: "PRIVATE note",
          customerNote: "PRIVATE wish",
        },
        ...{ state, confirmedAt: state === "confirmed" ? new Date("2027-03-01T07:00:00Z") : null },
        ...(state === "cancelled" ? { cancelledAt: new Date("2027-03-01T07:00:00Z") } : {}),
        lines: [{ productId: oat, units: 71 }],
      });
    // A draft of the owner's for this very shop is hers until she confirms it.
    await insertOrder(db, {
      ...{ customerId: desk().otter, reference: "PRIVATE-9", state: "draft", confirmedAt: null },
      lines: [{ productId: cedar, units: 12 }],
    });
    const heronPage = await openPage(heron);
    const heronShop = application.stranger();
    const sent = await heronShop.post(
      heronPage,
      asked({ [cedar]: "12" }, { note: "PRIVATE wish", customer_reference: "PRIVATE number" }),
      { from: heronPage },
    );
    const rows = await sql<{ id: string; names: string[] }[]>`
      select id::text, array_remove(array[reference, shop_reference], null) as names from orders`;
    const parts = rows.flatMap(({ id, names }) => [id, ...names]);
    const people = await sql<
      { id: string }[]
    >`select id::text from customers union select id::text from products`;
    const walked = [
      ...[...parts, ...people.map(({ id }) => id)].map((part) => `${address}/orders/${part}`),
      ...parts.map((part) => `/stockist/${part}`),
      ...[heron, 0, -1].map((id) => `${address}?customer=${id}&customerId=${id}&page=2`),
      address,
    ];
    for (const url of walked) {
      const page = await shop.get(url);
      expect([url, /PRIVATE|66677|666\.77|Heron/.exec(page.body)?.[0]]).toEqual([url, undefined]);
    }
    const everything = {
      ...asked({ [tea]: "12", [cedar]: "12" }),
      customer: String(heron),
      customerId: String(heron),
    };
    for (const where of ["", "/reckoning", "/promise"]) {
      const answer = await shop.post(`${address}${where}`, everything, { from: address });
      expect(answer.body).not.toMatch(/PRIVATE|666\.77|Heron/);
    }
    // The walk itself must not come to nothing: the other shop sees its own.
    expect((await heronShop.get(String(sent.headers.location))).body).toContain("PRIVATE wish");
    expect((await heronShop.get(heronPage)).body).toContain("PRIVATE-1");
  });
});

describe("hostile forms", () => {
  it("are answered in words and never fail", async () => {
    const { cedar } = desk();
    const texts = [
      "-1",
      "1e9",
      "\u0000",
      "9".repeat(400),
      "<script>alert(1)</script>",
      "2147483648",
      "\ud800",
      " ",
    ];
    for (const text of texts)
      for (const where of ["", "/reckoning", "/promise"]) {
        const fields = { ...asked({ [cedar]: text }), needed_by: text, note: text, customer_reference: text };
        const answer = await shop.post(
          `${address}${where}`,
          { ...fields, product: [text, String(cedar)] },
          { from: address },
        );
        expect([where, text, answer.statusCode < 500]).toEqual([where, text, true]);
        expect(answer.body).not.toMatch(/<script>alert|node_modules|Failed query|Invalid input/);
      }
    expect(await ordersNow(application)).toEqual([]);
  });

  it("come so often from one address and no oftener", async () => {
    let slowed = 0;
    for (let tries = 0; tries < 130; tries += 1)
      if ((await shop.get(`/stockist/${tries}`)).statusCode === 429) slowed += 1;
    expect(slowed).toBeGreaterThan(0);
  });
});
