import { randomUUID } from "node:crypto";
import type { TransactionSql } from "postgres";
import { describe, expect, it } from "vitest";
import { overlapping } from "../db/overlapping.ts";
import { orderFields, ordersNow, useDesk } from "./desk.ts";

const { application, desk } = useDesk();

const enter = (fields: Parameters<typeof orderFields>[0], options: { readonly formToken?: string } = {}) =>
  desk().owner.post("/orders/new", orderFields(fields), { from: "/orders/new", ...options });

describe("entering an order by hand", () => {
  it("begins with empty lines and says which numbers a blank reference becomes", async () => {
    const page = await desk().owner.get("/orders/new");
    expect(page.body).toContain("Left blank: W-101, or M-101 for a market.");
    expect(page.body.match(/name="units"/g)).toHaveLength(4);
  });

  it("keeps it as a draft, without the lines left empty", async () => {
    const { otter, cedar, oat } = desk();
    const lines = [
      [cedar, "36"],
      ["", ""],
      [oat, "1 024"],
      ["", " "],
    ] as const;
    const answer = await enter({ customer: String(otter), save: "draft", lines });
    expect(answer.statusCode).toBe(303);
    expect(answer.headers.location).toMatch(/^\/orders\/\d+$/);
    expect(await ordersNow(application)).toEqual([
      "W-101 draft complete 2027-03-05: 36 Cedar ball, 1024 Oat ball",
    ]);
    const [change] = await application.database.sql`select what, after from changes
      where subject = 'order' order by id desc limit 1`;
    expect(change).toMatchObject({
      what: "entered",
      after: { reference: "W-101", customer: "The Lamplit Otter", lines: [{ units: 36 }, { units: 1024 }] },
    });
  });

  it("takes the customer's usual way of delivery, unless another is chosen", async () => {
    const { otter, heron, quayside, cedar } = desk();
    const lines = [[cedar, "6"]] as const;
    await enter({ customer: String(heron), lines });
    await enter({ customer: String(quayside), lines });
    await enter({ customer: String(otter), terms: "as-ready", reference: "PO 77", lines });
    expect(await ordersNow(application)).toEqual([
      "M-101 confirmed market 2027-03-05: 6 Cedar ball",
      "PO 77 confirmed as-ready 2027-03-05: 6 Cedar ball",
      "W-101 confirmed as-ready 2027-03-05: 6 Cedar ball",
    ]);
  });

  it("goes on from the highest number there is", async () => {
    const { otter, cedar } = desk();
    const lines = [[cedar, "6"]] as const;
    await enter({ customer: String(otter), reference: "w-304", lines });
    await enter({ customer: String(otter), lines });
    expect((await ordersNow(application)).map((words) => words.slice(0, 5))).toEqual(["w-304", "W-305"]);
  });

  it("answers every mistake beside its field, keeps what was typed, and enters nothing", async () => {
    const { cedar, oat } = desk();
    const lines = [
      [cedar, "12"],
      [cedar, "6"],
      [oat, "2.5"],
      ["", "8"],
    ] as const;
    const answer = await enter({
      reference: "x".repeat(41),
      ship_by: "2027-02-30",
      note: "With a bow",
      lines,
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("Choose a customer.");
    expect(answer.body).toContain("Use at most 40 characters.");
    expect(answer.body).toContain("Give a date of the calendar");
    expect(mistakeAt(answer.body, "lines.1.product")).toContain("stands in line 1 already");
    expect(mistakeAt(answer.body, "lines.2.units")).toContain("Give a whole number from 1 to 100\u202f000.");
    expect(mistakeAt(answer.body, "lines.3.product")).toContain("Choose a product.");
    expect(answer.body).toContain('value="2.5"');
    expect(answer.body).toContain("With a bow</textarea>");
    expect(await ordersNow(application)).toEqual([]);
  });

  it.each([
    ["nothing in it", [["", ""]], "Nothing is ordered yet: fill in a line."],
    ["no lines at all", [], "Nothing is ordered yet: fill in a line."],
  ] as const)("refuses an order with %s", async (_, lines, sentence) => {
    const answer = await enter({ customer: String(desk().otter), lines });
    expect([answer.statusCode, answer.body.includes(sentence)]).toEqual([422, true]);
  });

  it("takes 500 lines at most, and says so", async () => {
    const { otter, cedar } = desk();
    const lines = Array.from({ length: 501 }, () => [cedar, "1"] as const);
    const answer = await enter({ customer: String(otter), lines });
    expect([answer.statusCode, answer.body.includes("One order takes at most 500 lines.")]).toEqual([
      422,
      true,
    ]);
  });

  it("refuses a reference that another order has, however it is capitalised", async () => {
    const { otter, cedar } = desk();
    const lines = [[cedar, "6"]] as const;
    await enter({ customer: String(otter), reference: "W-200", lines });
    const answer = await enter({ customer: String(otter), reference: "w-200", lines });
    expect(answer.statusCode).toBe(422);
    expect(mistakeAt(answer.body, "reference")).toContain("w-200 is taken by another order.");
  });

  it("takes today as ship-by date but no day before, and none years ahead", async () => {
    const { otter, cedar } = desk();
    const lines = [[cedar, "6"]] as const;
    const yesterday = await enter({ customer: String(otter), ship_by: "2027-02-28", lines });
    expect(mistakeAt(yesterday.body, "ship_by")).toContain("That date has gone by; today is Monday 1 March.");
    const slip = await enter({ customer: String(otter), ship_by: "2072-03-05", lines });
    expect(mistakeAt(slip.body, "ship_by")).toContain("is the year right?");
    expect((await enter({ customer: String(otter), ship_by: "2027-03-01", lines })).statusCode).toBe(303);
  });

  it("refuses a customer who no longer orders and a product no longer made", async () => {
    const { otter, heron, cedar } = desk();
    await application.database.sql`update customers set retired_at = now() where id = ${heron}`;
    await application.database.sql`update products set retired_at = now() where id = ${cedar}`;
    const customer = await enter({ customer: String(heron), lines: [[cedar, "6"]] });
    expect(mistakeAt(customer.body, "customer")).toContain("no longer orders");
    const product = await enter({
      customer: String(otter),
      lines: [
        ["", ""],
        [cedar, "6"],
      ],
    });
    expect(mistakeAt(product.body, "lines.1.product")).toContain("Cedar ball is no longer made.");
  });
});

describe("one more line", () => {
  it("without JavaScript answers with the form, a line longer, everything typed still there", async () => {
    const { otter, cedar } = desk();
    const fields = orderFields({
      customer: String(otter),
      note: "Ring first",
      save: "one-more-line",
      lines: [
        [cedar, "twelve"],
        ["", ""],
      ],
    });
    const answer = await desk().owner.post("/orders/new", fields, { from: "/orders/new" });
    expect(answer.statusCode).toBe(200);
    expect(answer.body.match(/name="units"/g)).toHaveLength(3);
    expect(answer.body).toContain('value="twelve"');
    expect(answer.body).toContain("Ring first</textarea>");
    expect(answer.body).not.toContain('class="mistake"');
    expect(await ordersNow(application)).toEqual([]);
  });

  it("with htmx brings only the next line, numbered after those that are there", async () => {
    const fields = orderFields({
      save: "one-more-line",
      lines: [
        ["", ""],
        ["", ""],
        ["", ""],
      ],
    });
    const answer = await desk().owner.post("/orders/lines", fields, {
      from: "/orders/new",
      headers: { "hx-request": "true" },
    });
    expect(answer.statusCode).toBe(200);
    expect(answer.body).toMatch(/^<fieldset class="order-line priced" aria-label="Line 4">/);
    expect(answer.body.match(/name="units"/g)).toHaveLength(1);
    expect(answer.body).toContain("Cedar ball");
    expect(answer.headers.vary).toContain("HX-Request");
  });
});

describe("sent more than once", () => {
  it("enters one order, however often the form arrives", async () => {
    const { otter, cedar } = desk();
    const formToken = randomUUID();
    const sendings = await Promise.all(
      [1, 2, 3].map(() => enter({ customer: String(otter), lines: [[cedar, "6"]] }, { formToken })),
    );
    expect(sendings.map((answer) => answer.statusCode)).toEqual([303, 303, 303]);
    expect(new Set(sendings.map((answer) => answer.headers.location)).size).toBe(1);
    expect(await ordersNow(application)).toHaveLength(1);
  });

  it("gives two people who enter orders at the same moment two numbers", async () => {
    const { otter, cedar } = desk();
    const held = (gate: TransactionSql) => gate`select pg_advisory_xact_lock(hashtext('orders.reference'))`;
    const answers = await overlapping(
      application.database.sql,
      held,
      [1, 2].map(() => () => enter({ customer: String(otter), lines: [[cedar, "6"]] })),
    );
    expect(answers.map((answer) => answer.statusCode)).toEqual([303, 303]);
    expect((await ordersNow(application)).map((words) => words.slice(0, 5))).toEqual(["W-101", "W-102"]);
  });
});

describe("who may, and what is shown", () => {
  it("keeps the desk from helpers", async () => {
    const { helper, otter, cedar } = desk();
    for (const page of ["/orders", "/orders/new", "/orders/import"])
      expect((await helper.get(page)).statusCode).toBe(403);
    const fields = orderFields({ customer: String(otter), lines: [[cedar, "6"]] });
    expect((await helper.post("/orders/new", fields, { from: "/week" })).statusCode).toBe(403);
    expect(await ordersNow(application)).toEqual([]);
  });

  it("shows names and notes as text", async () => {
    const { owner, cedar } = desk();
    const hostile = "<img src=x onerror=alert(1)>";
    await application.database.sql`update customers set name = ${hostile} where name = 'The Lamplit Otter'`;
    await application.database.sql`update products set name = ${`${hostile} ball`} where id = ${cedar}`;
    const fields = { customer: String(desk().otter), reference: hostile, note: hostile };
    const answer = await enter({ ...fields, lines: [[cedar, "6"]] });
    const order = String(answer.headers.location);
    for (const page of ["/orders", "/orders/new", order, `${order}/edit`]) {
      const shown = await owner.get(page);
      expect(shown.statusCode).toBe(200);
      expect(shown.body).toContain("&lt;img src=x");
      expect(shown.body).not.toContain("<img src=x");
    }
  });
});

/** The sentence beside a field. */
function mistakeAt(body: string, field: string): string {
  return new RegExp(`id="${field.replaceAll(".", "\\.")}-mistake">([^<]*)<`).exec(body)?.[1] ?? "none";
}
