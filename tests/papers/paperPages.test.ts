import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { ownerAccount, signedIn, useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, helperOf, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";
import { emptyCountingRoom, insertPricedOrder, letLeave, NOON, type Range } from "./countingRoom.ts";
import { plainBlanks, sheetsOf } from "./pdfText.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let helper: Visitor;
let range: Range;

const HEADING = {
  name: "Tidepool & Thimble",
  address: "Große Gasse 4\r\n1010 Łąkowa-Übersee",
  taxNumber: "VAT no. XX 123 456",
  bank: "Bank of the Lesser Puddle, account “00 12”",
  paymentWords: "Please name the number of the invoice.",
  footer: "Soap is no food – not even for crows.",
  paperSize: "A4",
};

beforeAll(async () => {
  owner = await ownerInSetup(application);
  helper = await helperOf(application, owner);
  application.clock.set(NOON.toISOString());
});

/** Noon of a day; whoever was signed in weeks before has to do so again. */
async function onThe(date: string): Promise<void> {
  application.clock.set(`${date}T12:00:00Z`);
  owner = await signedIn(application, ownerAccount);
  helper = await signedIn(application, { email: "fig@halfmold.example", password: "black tea and oat" });
}

beforeEach(async () => {
  if (application.clock.now() > NOON) await onThe("2027-03-01");
  range = await emptyCountingRoom(database, {
    ...{ name: "Čapek’s Žabka", earlyDiscountBasisPoints: 200, earlyDiscountDays: 10 },
  });
  await owner.post("/setup/heading", HEADING, { from: "/setup/heading" });
});

/** 12 cedar balls at 390.00 less 10 %, 12 oat pucks at 2.50, shipping 7.90, 19 % tax: 10 of the first and 12 of the second left. */
async function orderOnItsWay() {
  const order = await insertPricedOrder(database, range, {
    ...{ shippingMinor: 790, shippingTaxPpm: 190_000, discountBasisPoints: 500, customerReference: "PO 77" },
    lines: [
      { units: 12, unitPriceMinor: 39_000, discountBasisPoints: 1000, taxPpm: 190_000 },
      { units: 12, unitPriceMinor: 250, taxPpm: 190_000 },
    ],
  });
  await letLeave(database, range, order, [10, 12], NOON);
  return order;
}

const from = "/setup/heading";
const bill = async (orderId: number, basis = "left") =>
  String((await owner.post(`/invoices/of-order/${orderId}`, { basis }, { from })).headers.location);

/** The paper that a page shows, in plain blanks; and the words of each cell, sum, note and fact on it. */
function paperOn(html: string) {
  const paper = /<article class="slip">.*<\/article>/s.exec(html)?.[0] ?? "";
  const parts = [...paper.matchAll(/>([^<>]+)</g)].map(([, words = ""]) =>
    plainBlanks(words.replaceAll("&amp;", "&").replaceAll("&quot;", '"')),
  );
  return { text: textOf(paper), parts: parts.filter((words) => words !== "") };
}

/** Every word of the paper on the page is in the file, as often as it is on the page. */
async function expectSame(page: string, file: string): Promise<string> {
  const { parts } = paperOn((await owner.get(page)).body);
  const answer = await owner.get(file);
  expect(answer.headers["content-type"]).toBe("application/pdf");
  const sheets = await sheetsOf(answer.rawPayload);
  const words = sheets.join(" ");
  const times = (text: string, of: string) => text.split(of).length - 1;
  const figures = parts.filter((part) => /\d/.test(part));
  expect(figures.length).toBeGreaterThan(3);
  for (const part of parts) expect(words, part).toContain(part);
  for (const figure of figures)
    expect([figure, times(words, figure)]).toEqual([figure, times(parts.join(" "), figure)]);
  return words;
}

describe("writing an invoice", () => {
  it("says first what has left and is not billed, offers the rest ahead, and leads to the invoice", async () => {
    const { orderId } = await orderOnItsWay();
    const page = await owner.get(`/invoices/of-order/${orderId}`);
    // 10 x 390.00 less 10 % is 3510.00, less 5 % 3334.50, 19 % tax 633.56; 12 x 2.50 is 30.00, less 5 % 28.50, tax 5.42;
    // shipping 7.90, tax 1.50: 3370.90 and 640.48 tax.
    expect(headingOf(page.body)).toBe("22 pieces of W-104 have left and are not billed: €4 011.38.");
    expect(textOf(page.body)).toContain("the whole order, ahead 24 pieces");
    const place = await bill(orderId);
    const invoice = await owner.get(place);
    expect(headingOf(invoice.body)).toBe(
      "Čapek’s Žabka has €4 011.38 of invoice 2027-0001 to pay by Wednesday 31 March.",
    );
    expect(textOf((await owner.get(`/orders/${orderId}`)).body)).toContain("Invoice 2027-0001");
    expect((await changesOf(application, "order")).at(-1)).toMatchObject({ what: "billed" });
  });

  it("says what was ordered and not sent on the invoice itself", async () => {
    const { orderId } = await orderOnItsWay();
    const { text } = paperOn((await owner.get(await bill(orderId))).body);
    expect(text).toContain("ordered 12, sent so far 10");
    expect(text).toContain("Ordered and not sent by this date, so not billed here: 2 pieces: 2 Cedar ball.");
    const ahead = paperOn((await owner.get(await bill(orderId, "whole"))).body).text;
    expect(ahead).toContain("Billed before they have left us: 2 pieces: 2 Cedar ball.");
  });

  it("answers what cannot be billed in words, and what was not chosen beside its field", async () => {
    const { orderId } = await orderOnItsWay();
    const blank = await owner.post(`/invoices/of-order/${orderId}`, {}, { from });
    expect([blank.statusCode, mistakeBeside(blank, "basis")]).toEqual([422, "Choose what to bill."]);
    await bill(orderId);
    const again = await owner.post(`/invoices/of-order/${orderId}`, { basis: "left" }, { from });
    expect(again.statusCode).toBe(409);
    expect(textOf(again.body)).toContain("Everything that has left is billed already.");
    expect((await owner.post("/invoices/of-order/9999", { basis: "left" }, { from })).statusCode).toBe(404);
  });
});

describe("the file of a paper", () => {
  it("says of an invoice what its page says, umlauts and quotation marks too, and is the same each time", async () => {
    const { orderId } = await orderOnItsWay();
    const place = await bill(orderId);
    const words = await expectSame(place, `${place}/paper.pdf`);
    for (const said of [
      "Große Gasse 4",
      "1010 Łąkowa-Übersee",
      "Čapek’s Žabka",
      "“00 12”",
      "crows",
      "€4 011.38",
    ])
      expect(words).toContain(said);
    const files = [await owner.get(`${place}/paper.pdf`), await owner.get(`${place}/paper.pdf`)];
    expect(files[0]?.rawPayload.equals(files[1]?.rawPayload ?? Buffer.alloc(0))).toBe(true);
    expect(files[0]?.headers["content-disposition"]).toBe('attachment; filename="invoice-2027-0001.pdf"');
  });

  it("keeps what the invoice says when the shop's heading and the customer change", async () => {
    const { orderId } = await orderOnItsWay();
    const place = await bill(orderId);
    const before = await sheetsOf((await owner.get(`${place}/paper.pdf`)).rawPayload);
    await owner.post("/setup/heading", { ...HEADING, name: "Another", address: "", footer: "" }, { from });
    await database.sql`update customers set name = 'Another'`;
    await database.sql`update products set name = 'Another ' || id`;
    expect(await sheetsOf((await owner.get(`${place}/paper.pdf`)).rawPayload)).toEqual(before);
  });

  it("says of a confirmation, a credit note and a statement what their pages say", async () => {
    const { orderId } = await orderOnItsWay();
    await expectSame(`/orders/${orderId}/confirmation`, `/orders/${orderId}/confirmation.pdf`);
    const place = await bill(orderId);
    const lines = await database.sql`select id from invoice_lines order by id`;
    const credit = await owner.post(
      `${place}/credit`,
      { line: lines.map(({ id }) => String(id)), units: ["1", "", ""], billAgain: "no", reason: "Cracked" },
      { from },
    );
    const note = String(credit.headers.location);
    const words = await expectSame(note, `${note}/paper.pdf`);
    for (const said of ["Credit note C2027-0001", "Corrects invoice 2027-0001", "Why: Cracked"])
      expect(words).toContain(said);
    const statement = `/invoices/statements/${range.customerId}`;
    await expectSame(statement, `${statement}/statement.pdf`);
  });

  it("says of a packing slip what its page says, and no price", async () => {
    await orderOnItsWay();
    const [delivery] = await database.sql`select id from deliveries`;
    const words = await expectSame(`/delivery/${delivery?.id}`, `/delivery/${delivery?.id}/slip.pdf`);
    expect(words).toContain("K7Q");
    expect(words).not.toMatch(/€|390|2\.50/);
  });

  it("takes as many sheets as it needs, with names of the columns and the shop's words on each", async () => {
    const order = await insertPricedOrder(database, range, { lines: [{ units: 1, unitPriceMinor: 100 }] });
    await database.sql`insert into blends (code, name, colour, pattern, shade)
      select 'b-' || n, 'b ' || n, '#c98a3d', 'plain', 0.5 from generate_series(1, 90) n`;
    await database.sql`insert into products (code, name, blend_id, shape_id)
      select code || '/x', 'Product ' || name, id, (select min(id) from shapes) from blends where code like 'b-%'`;
    await database.sql`insert into order_lines (order_id, product_id, units, unit_price_minor, tax_ppm)
      select ${order.orderId}, id, 3, 111, 0 from products where name like 'Product %'`;
    const place = await bill(order.orderId, "whole");
    const sheets = await sheetsOf((await owner.get(`${place}/paper.pdf`)).rawPayload);
    expect(sheets.length).toBeGreaterThan(2);
    for (const [at, sheet] of sheets.entries()) {
      expect(sheet).toContain(`sheet ${at + 1} of ${sheets.length}`);
      expect(sheet).toContain("Bank of the Lesser Puddle");
    }
    // 1.00 and 90 x 3 x 1.11
    expect(sheets.at(-1)).toContain("€300.70");
    for (let product = 1; product <= 90; product += 1)
      expect(sheets.join(" ")).toContain(`Product b ${product} `);
  });

  it("is drawn on the paper that was chosen", async () => {
    const { orderId } = await orderOnItsWay();
    const sizeOf = async () =>
      /\/MediaBox \[([^\]]+)\]/.exec(
        (await owner.get(`/orders/${orderId}/confirmation.pdf`)).rawPayload.toString("latin1"),
      )?.[1];
    expect(await sizeOf()).toBe("0 0 595.28 841.89");
    await owner.post("/setup/heading", { ...HEADING, paperSize: "Letter" }, { from });
    expect(await sizeOf()).toBe("0 0 612 792");
  });
});

describe("a credit note's form", () => {
  it("asks for everything to begin with, and answers what is wrong beside its field", async () => {
    const { orderId } = await orderOnItsWay();
    const place = await bill(orderId);
    expect((await owner.get(`${place}/credit`)).body).toMatch(/name="units"[^>]*value="10"/);
    const lines = await database.sql`select id from invoice_lines order by id`;
    const send = (fields: Readonly<Record<string, string | readonly string[]>>) =>
      owner.post(
        `${place}/credit`,
        { line: lines.map(({ id }) => String(id)), billAgain: "no", reason: "x", ...fields },
        { from },
      );
    const wrong = await send({ units: ["11", "", ""] });
    expect([wrong.statusCode, mistakeBeside(wrong, "units.0")]).toEqual([
      422,
      "Only 10 pieces of it can still be credited.",
    ]);
    expect(mistakeBeside(await send({ units: ["", "-1", ""] }), "units.1")).toContain("whole number");
    expect(mistakeBeside(await send({ units: ["", "", "2"] }), "units.2")).toContain("one shipping");
    expect(mistakeBeside(await send({ units: ["1", "", ""], reason: "" }), "reason")).toBe("Fill this in.");
    expect(textOf((await send({ units: ["", "", ""] })).body)).toContain("Say of at least one line");
    expect(await database.sql`select from invoices where kind = 'credit-note'`).toHaveLength(0);
  });
});

describe("payments by form", () => {
  const entry = { kind: "received", amount: "10.00", paidOn: "2027-03-01", words: "" };

  it("settle an invoice in parts and can be taken back", async () => {
    const { orderId } = await orderOnItsWay();
    const place = await bill(orderId);
    await owner.post(`${place}/payments`, entry, { from: place });
    const page = (await owner.get(place)).body;
    expect(headingOf(page)).toContain("€4 001.38");
    const back = /action="([^"]+counter-entry)"/.exec(page)?.[1] ?? "";
    await owner.post(back, {}, { from: place });
    expect(headingOf((await owner.get(place)).body)).toContain("€4 011.38");
    const again = await owner.post(back, {}, { from: place });
    expect(again.statusCode).toBe(409);
    expect(textOf(again.body)).toContain("This entry is taken back already.");
  });

  it("say beside the field what is wrong, and change nothing", async () => {
    const { orderId } = await orderOnItsWay();
    const place = await bill(orderId);
    const send = (fields: object) =>
      owner.post(`${place}/payments`, { ...entry, ...fields }, { from: place });
    const more = await send({ amount: "4011.39" });
    expect(more.statusCode).toBe(422);
    expect(plainBlanks(mistakeBeside(more, "amount") ?? "")).toContain("Only €4 011.38 are open.");
    expect(more.body).toContain('name="beyond"');
    expect(mistakeBeside(await send({ amount: "1.234" }), "amount")).toContain("read in two ways");
    expect(mistakeBeside(await send({ paidOn: "2027-03-02" }), "paidOn")).toContain("still to come");
    expect(mistakeBeside(await send({ kind: "gift" }), "kind")).toBe("Choose what it was.");
    expect(await database.sql`select from payments`).toHaveLength(0);
    await send({ amount: "4011.39", beyond: "yes" });
    expect(headingOf((await owner.get(place)).body)).toContain("€0.01 more than");
  });
});

describe("the list of invoices", () => {
  it("shows what is open, what is overdue, and finds by number, customer and order", async () => {
    const { orderId } = await orderOnItsWay();
    const place = await bill(orderId);
    const list = async (query: string) => textOf((await owner.get(`/invoices?${query}`)).body);
    expect(await list("")).toContain("One invoice with €4 011.38 is open; none is overdue.");
    expect(await list("show=overdue")).toContain("No invoice is like that.");
    await onThe("2027-04-01");
    expect(await list("show=overdue")).toContain("1 day overdue");
    expect(await list("")).toContain("€4 011.38 are overdue.");
    for (const words of ["2027-0001", "žabka", "w-104"])
      expect(await list(`q=${encodeURIComponent(words)}`)).toContain("2027-0001");
    expect(await list("q=2027-0002")).toContain("No invoice is like that.");
    await owner.post(
      `${place}/payments`,
      { kind: "received", amount: "4011.38", paidOn: "2027-04-01", words: "" },
      { from: place },
    );
    expect(await list("")).toContain("Every invoice is settled.");
    expect(await list("show=all")).toContain("2027-0001");
  });
});

describe("a statement", () => {
  it("has each open invoice with its age, on the page and as CSV", async () => {
    const { orderId } = await orderOnItsWay();
    await bill(orderId);
    await onThe("2027-05-01");
    const address = `/invoices/statements/${range.customerId}`;
    const page = (await owner.get(address)).body;
    expect(headingOf(page)).toBe("Čapek’s Žabka has €4 011.38 to pay, €4 011.38 overdue.");
    expect(paperOn(page).text).toContain("31 days overdue");
    expect(paperOn(page).text).toContain("31 to 60 days overdue €4 011.38");
    const file = (await owner.get(`${address}/statement.csv`)).body;
    expect(file).toBe(
      "\uFEFFinvoice,order,issued,due,days_overdue,currency,billed,credited,settled,open\r\n" +
        "2027-0001,W-104,2027-03-01,2027-03-31,31,EUR,4011.38,0.00,0.00,4011.38\r\n",
    );
  });
});

describe("a helper", () => {
  it("gets the packing slip's file, and no paper with money on it", async () => {
    const { orderId } = await orderOnItsWay();
    const place = await bill(orderId);
    const [delivery] = await database.sql`select id from deliveries`;
    expect((await helper.get(`/delivery/${delivery?.id}/slip.pdf`)).statusCode).toBe(200);
    for (const page of [
      ...[place, `${place}/paper.pdf`, "/invoices", `/invoices/of-order/${orderId}`, "/setup/heading"],
      ...[`/orders/${orderId}/confirmation.pdf`, `/invoices/statements/${range.customerId}/statement.pdf`],
    ])
      expect([page, (await helper.get(page)).statusCode]).toEqual([page, 403]);
  });
});

describe("the heading", () => {
  it("is kept as it was typed, and says beside its field what is too long", async () => {
    const page = (await owner.get("/setup/heading")).body;
    expect(page).toContain('value="VAT no. XX 123 456"');
    const long = await owner.post("/setup/heading", { ...HEADING, footer: "x".repeat(401) }, { from });
    expect([long.statusCode, mistakeBeside(long, "footer")]).toEqual([422, "Use at most 400 characters."]);
  });
});
