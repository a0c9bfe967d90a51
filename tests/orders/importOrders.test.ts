import { randomUUID } from "node:crypto";
import type { TransactionSql } from "postgres";
import { describe, expect, it } from "vitest";
import { textOf } from "../build/pageText.ts";
import { overlapping } from "../db/overlapping.ts";
import { ordersNow, useDesk } from "./desk.ts";
import { badLines, orderFiles } from "./orderFiles.ts";

const { application, desk } = useDesk();

const HEADER = "order,customer,terms,ship_by,product,units";
const COLUMNS = "order, customer, terms, ship_by, needed_by, product, units, price, their_number, note";

const { look, take } = orderFiles(() => desk().owner);

function lines(...rows: string[]): string {
  return [HEADER, ...rows].join("\r\n");
}

/** Rows in every table a file could touch. */
async function rowCounts() {
  const [counts] = await application.database.sql`select (select count(*) from orders) as orders,
    (select count(*) from order_lines) as lines, (select count(*) from changes) as changes,
    (select count(*) from form_receipts) as receipts`;
  return counts;
}

const GOOD = [
  "W-301,The Lamplit Otter,,2027-03-05,cedar-amber/ball-60,36",
  "W-301,the lamplit  otter,,2027-03-05,Oat ball,24",
  "M-012,Quayside Saturday,,2027-03-06,Black tea ball,60",
];

describe("a good file", () => {
  it("is shown before anything is taken, order by order with totals", async () => {
    const preview = await look(lines(...GOOD));
    expect(preview.statusCode).toBe(200);
    expect(preview.body).toContain("week.csv holds 2 new orders with 120 pieces. Take them?");
    for (const words of ["36 Cedar ball", "24 Oat ball", "Fri 5 Mar", "for a market day"])
      expect(preview.body).toContain(words);
    expect(await ordersNow(application)).toEqual([]);
  });

  it("becomes confirmed orders with the customers' usual terms", async () => {
    const answer = await take((await look(lines(...GOOD))).body);
    expect([answer.statusCode, answer.headers.location]).toEqual([303, "/orders?taken=2"]);
    expect(await ordersNow(application)).toEqual([
      "M-012 confirmed market 2027-03-06: 60 Black tea ball",
      "W-301 confirmed complete 2027-03-05: 36 Cedar ball, 24 Oat ball",
    ]);
    const page = await desk().owner.get("/orders?taken=2");
    expect(page.body).toContain("2 orders taken from the file and confirmed.");
    const [order] = await application.database.sql<
      { id: number }[]
    >`select id from orders where reference = 'W-301'`;
    const shown = await desk().owner.get(`/orders/${order?.id}`);
    expect(shown.body).toContain(
      "taken from a file and confirmed: 60 pieces for The Lamplit Otter by Fri 5 Mar",
    );
  });

  it.each([
    [
      "columns in another order",
      `units,product,ship_by,terms,customer,order\n36,Cedar ball,2027-03-05,,The Lamplit Otter,W-301\n`,
    ],
    [
      "column names in capitals with spaces",
      `Order , Customer,TERMS,Ship_By,Product,Units\nW-301,The Lamplit Otter,,2027-03-05,Cedar ball,36\n`,
    ],
    ["a byte order mark", `\ufeff${lines("W-301,The Lamplit Otter,,2027-03-05,Cedar ball,36")}`],
    [
      "LF line breaks and a last empty line",
      `${HEADER}\nW-301,The Lamplit Otter,,2027-03-05,Cedar ball,36\n\n`,
    ],
    [
      "everything quoted",
      `"order","customer","terms","ship_by","product","units"\r\n"W-301","The Lamplit Otter","","2027-03-05","Cedar ball","36"\r\n`,
    ],
    ["a line break within a quoted name", lines('W-301,"The Lamplit\r\nOtter",,2027-03-05,Cedar ball,36')],
    [
      "spaces around the values",
      lines(" W-301 , The Lamplit Otter , Complete , 2027-03-05 , Cedar ball , 36 "),
    ],
  ])("is taken with %s", async (_, content) => {
    expect((await take((await look(content)).body)).statusCode).toBe(303);
    expect(await ordersNow(application)).toEqual(["W-301 confirmed complete 2027-03-05: 36 Cedar ball"]);
  });

  it("finds names with commas, quotation marks and accents, however the accents are written", async () => {
    await application.database
      .sql`update customers set name = 'Café "Moth", Upper Row' where name = 'The Lamplit Otter'`;
    const decomposed = "Cafe\u0301";
    const content = lines(`W-301,"${decomposed} ""Moth"", Upper Row",,2027-03-05,Cedar ball,36`);
    expect((await take((await look(content)).body)).statusCode).toBe(303);
    expect(await ordersNow(application)).toHaveLength(1);
  });

  it("lets one line state the terms for its whole order", async () => {
    const content = lines(
      "W-301,The Lamplit Otter,,2027-03-05,Cedar ball,36",
      "W-301,The Lamplit Otter,as-ready,2027-03-05,Oat ball,24",
    );
    await take((await look(content)).body);
    expect(await ordersNow(application)).toEqual([
      "W-301 confirmed as-ready 2027-03-05: 36 Cedar ball, 24 Oat ball",
    ]);
  });

  it("takes 5 000 lines", async () => {
    const rows = Array.from({ length: 5000 }, (_, row) => {
      const product = ["Cedar ball", "Oat ball"][row % 2];
      return `X-${Math.floor(row / 2)},Heron & Thimble,,2027-03-09,${product},${1 + (row % 90)}`;
    });
    const answer = await take((await look(lines(...rows))).body);
    expect(answer.headers.location).toBe("/orders?taken=2500");
    const [counts] = await application.database.sql`select count(*)::integer as lines from order_lines`;
    expect(counts?.lines).toBe(5000);
    expect((await desk().owner.get("/orders?page=50")).body).toContain(
      "Orders 2\u202f451 to 2\u202f500 of 2\u202f500",
    );
  });
});

describe("sent twice", () => {
  it("makes nothing twice under the same form", async () => {
    const preview = await look(lines(...GOOD));
    const formToken = randomUUID();
    const answers = [await take(preview.body, formToken), await take(preview.body, formToken)];
    expect(answers.map((answer) => answer.headers.location)).toEqual(["/orders?taken=2", "/orders?taken=2"]);
    expect(await ordersNow(application)).toHaveLength(2);
  });

  it("makes nothing twice under another form, even at the same moment", async () => {
    const preview = await look(lines(...GOOD));
    const held = (gate: TransactionSql) => gate`select pg_advisory_xact_lock(hashtext('orders.reference'))`;
    const answers = await overlapping(application.database.sql, held, [
      () => take(preview.body),
      () => take(preview.body),
    ]);
    expect(answers.map((answer) => answer.headers.location).toSorted()).toEqual([
      "/orders",
      "/orders?taken=2",
    ]);
    expect(await ordersNow(application)).toHaveLength(2);
  });

  it("says what was taken before, even after its dates have gone by, and takes only what is new", async () => {
    await take((await look(lines(...GOOD))).body);
    await application.database
      .sql`update orders set state = 'cancelled', cancelled_at = now() where reference = 'M-012'`;
    application.clock.set("2027-03-10T08:00:00Z");
    try {
      const all = await look(lines(...GOOD));
      expect(all.body).toContain("Nothing in week.csv is new: all of it was taken before.");
      expect(textOf(all.body)).toContain("M-012 (cancelled since)");
      expect(all.body).not.toContain("/orders/import/taking");
      const more = await look(lines(...GOOD, "W-400,The Lamplit Otter,,2027-03-15,Cedar ball,6"));
      expect(more.body).toContain("week.csv holds 1 new order with 6 pieces. Take it?");
      await take(more.body);
    } finally {
      application.clock.set("2027-03-01T08:00:00Z");
    }
    expect(await ordersNow(application)).toHaveLength(3);
  });

  it("names an order that is there with other content", async () => {
    await take((await look(lines(...GOOD))).body);
    const answer = await look(lines("w-301,The Lamplit Otter,,2027-03-05,Cedar ball,37"));
    expect(answer.statusCode).toBe(422);
    expect(badLines(answer.body)[2]).toMatch(
      /^w-301 is there already, with other content, and is confirmed\./,
    );
  });

  it("refuses what became wrong between the look and the taking, and takes nothing", async () => {
    const preview = await look(lines(...GOOD));
    await application.database.sql`update products set retired_at = now() where name = 'Black tea ball'`;
    const answer = await take(preview.body);
    expect(answer.statusCode).toBe(409);
    expect(badLines(answer.body)).toEqual({ 4: "Black tea ball is no longer made." });
    expect(await ordersNow(application)).toEqual([]);
  });
});

describe("while somebody retires what a file asks for", () => {
  it.each([
    [
      "its customer",
      (gate: TransactionSql) =>
        gate`update customers set retired_at = now() where name = 'The Lamplit Otter'`,
    ],
    [
      "a product of it",
      (gate: TransactionSql) => gate`update products set retired_at = now() where name = 'Cedar ball'`,
    ],
  ])("waits for the end of it, and then takes nothing: %s", async (_what, hold) => {
    const preview = await look(lines(...GOOD));
    const [answer] = await overlapping(application.database.sql, hold, [() => take(preview.body)]);
    expect([answer?.statusCode, await ordersNow(application)]).toEqual([409, []]);
  });
});

describe("a bad file", () => {
  it("is not taken at all: every bad line is named, and no row is written", async () => {
    const before = await rowCounts();
    const answer = await look(
      lines(
        GOOD[0] ?? "",
        "W-302,The Lamplit Oter,,2027-03-05,Cedar ball,36",
        "W-303,The Lamplit Otter,later,05/03/2027,cedar-ambre/ball-60,2.5",
        ",The Lamplit Otter,,2027-03-05,,0",
        "W-305,The Lamplit Otter,,2027-03-05,Cedar ball",
        "W-306,The Lamplit Otter,,2027-02-26,Cedar ball,36",
        "W-307,The Lamplit Otter,,2027-03-05,Cedar ball,1",
        "W-307,Heron & Thimble,,2027-03-06,Cedar ball,1",
        "W-308,Heron & Thimble,,2072-03-06,Cedar ball,1",
      ),
    );
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("Nothing was taken: 7 lines of week.csv need mending.");
    expect(badLines(answer.body)).toEqual({
      3: "There is no customer “The Lamplit Oter”. Nearest: “The Lamplit Otter”.",
      4:
        "“later” is no way of delivery. Give complete, as-ready, market, or leave it blank for the customer's usual way.\n" +
        "“05/03/2027” is no date of the calendar. Choose below whether the day or the month comes first, or write dates as in 2027-03-05.\n" +
        "There is no product “cedar-ambre/ball-60”. Nearest: “cedar-amber/ball-60”.\n" +
        "“2.5” is no number of pieces. Give a whole number from 1 to 100\u202f000.",
      5: "The column order is blank.\nThe column product is blank.\n“0” is no number of pieces. Give a whole number from 1 to 100\u202f000.",
      6: "5 fields where the header has 6. What separates the fields needs quotation marks where it stands within one.",
      7: "Friday 26 February has gone by; today is Monday 1 March.",
      9:
        "customer says “Heron &amp; Thimble”, but line 8 says otherwise for the same order W-307.\n" +
        "ship_by says “2027-03-06”, but line 8 says otherwise for the same order W-307.\n" +
        "W-307 has this product in line 8 already; add the pieces there.",
      10: "Sunday 6 March 2072 is too far ahead; orders are taken up to Thursday 1 March 2029.",
    });
    expect(await rowCounts()).toEqual(before);
  });

  it("counts a thousand bad lines and tells the first two hundred", async () => {
    const rows = Array.from({ length: 1000 }, (_, row) => `W-${row},Shop ${row},,2027-03-05,Scent ${row},x`);
    const answer = await look(lines(...rows));
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("Nothing was taken: 1\u202f000 lines of week.csv need mending.");
    expect(answer.body).toContain("3\u202f000 mistakes in all.");
    expect(answer.body).toContain("The first 200 bad lines are told here.");
    expect(Object.keys(badLines(answer.body))).toHaveLength(200);
  });

  it.each([
    ["an empty file", "", { 1: "The file is empty." }],
    ["a header alone", HEADER, { 1: "There is nothing below the header." }],
    [
      "a missing column",
      "order,customer,terms,product,units\nW-1,x,,y,1",
      {
        1: `The column ship_by is missing. The columns are ${COLUMNS}.`,
      },
    ],
    [
      "an unknown column",
      `${HEADER},scent\nW-1,x,,2027-03-05,y,1,2`,
      { 1: `There is no column “scent”. The columns are ${COLUMNS}.` },
    ],
    [
      "a column twice",
      `${HEADER},units\nW-1,x,,2027-03-05,y,1,2`,
      { 1: "The column units stands there more than once." },
    ],
    [
      "an open quotation mark",
      lines('W-1,"The Lamplit Otter,,2027-03-05,Cedar ball,36', "W-2,x"),
      {
        2: "A quotation mark opens here and is not closed within 10\u202f000 characters; nothing after it could be read.",
      },
    ],
    [
      "UTF-16",
      Buffer.from(`\ufeff${lines(...GOOD)}`, "utf16le"),
      { 1: "This is not UTF-8 but looks like UTF-16. Save the file as CSV in UTF-8." },
    ],
    [
      "Latin-1 in two lines",
      Buffer.from(
        lines("W-1,Café,,2027-03-05,y,1", "W-2,x,,2027-03-05,y,1", "W-3,Rosé,,2027-03-05,y,1"),
        "latin1",
      ),
      {
        2: "Some characters here are not UTF-8. Save the file as CSV in UTF-8.",
        4: "Some characters here are not UTF-8. Save the file as CSV in UTF-8.",
      },
    ],
  ])("names %s", async (_, content, expected) => {
    const answer = await look(content);
    expect([answer.statusCode, badLines(answer.body)]).toEqual([422, expected]);
  });

  it("is refused past 5 000 lines, and an order past 500", async () => {
    const row = (line: number) => `W-${line},The Lamplit Otter,,2027-03-05,Cedar ball,1`;
    const long = await look(lines(...Array.from({ length: 5001 }, (_, line) => row(line))));
    expect(badLines(long.body)).toEqual({
      "5\u202f002": expect.stringContaining("at most 5\u202f000 lines"),
    });
    await application.database.sql`insert into blends (code, name, colour, pattern, shade)
      select 'scent-' || n, 'Scent ' || n, '#aabbcc', 'dots', 0.5 from generate_series(1, 501) n`;
    await application.database.sql`insert into products (code, name, blend_id, shape_id)
      select code || '/ball-60', name, id, (select id from shapes) from blends where code like 'scent-%'`;
    const scents = Array.from(
      { length: 501 },
      (_, n) => `W-1,The Lamplit Otter,,2027-03-05,Scent ${n + 1},1`,
    );
    expect(badLines((await look(lines(...scents))).body)).toEqual({ 502: "W-1 has more than 500 lines." });
    expect((await look(lines(...scents.slice(1)))).statusCode).toBe(200);
  });

  it("of 10 MB is refused with the limit", async () => {
    const answer = await look(Buffer.alloc(10 * 1024 * 1024, `${GOOD[0]}\n`));
    expect(answer.statusCode).toBe(413);
    expect(answer.body).toContain("This file is larger than 2 MB. Send it in parts.");
  });

  it("that is no file at all is asked for", async () => {
    const { owner } = desk();
    for (const answer of [
      await owner.post("/orders/import", {}, { from: "/orders/import" }),
      await look("", { name: "" }),
      await owner.post(
        "/orders/import/taking",
        { file_name: "x", file: "not base64!" },
        { from: "/orders/import" },
      ),
    ]) {
      expect(answer.statusCode).toBe(422);
      expect(answer.body).toContain("Choose a file first.");
    }
  });

  it("shows what it holds as text", async () => {
    const hostile = "<script>alert(1)</script>";
    const answer = await look(lines(`${hostile},${hostile},${hostile},${hostile},${hostile},${hostile}`), {
      name: `${hostile}.csv`,
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("&lt;script>alert(1)");
    expect(answer.body).not.toContain("<script>alert");
  });

  it("is not taken from a helper", async () => {
    const { helper } = desk();
    const file = { field: "file", name: "week.csv", content: lines(...GOOD) };
    expect((await helper.postFile("/orders/import", file, { from: "/week" })).statusCode).toBe(403);
    const carried = Buffer.from(lines(...GOOD)).toString("base64url");
    const taking = await helper.post(
      "/orders/import/taking",
      { file_name: "x", file: carried },
      { from: "/week" },
    );
    expect(taking.statusCode).toBe(403);
    expect(await ordersNow(application)).toEqual([]);
  });
});
