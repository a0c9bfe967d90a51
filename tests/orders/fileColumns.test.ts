import { beforeEach, describe, expect, it } from "vitest";
import { insertPriceList } from "../build/priceRows.ts";
import { insertWorkingWeek } from "../build/rows.ts";
import { ordersNow, useDesk } from "./desk.ts";
import { badLines, orderFiles } from "./orderFiles.ts";

const { application, desk } = useDesk();
const { look, paste, take } = orderFiles(() => desk().owner);

beforeEach(() => application.database.sql`update workshop set currency = 'EUR'`);

const WIDE = "order,customer,ship_by,needed_by,product,units,price,their_number,note";

const pricesNow = async () =>
  (
    await application.database.sql<{ words: string }[]>`
    select reference || ' ' || units || ' at ' || coalesce(unit_price_minor::text, 'no price') as words
    from order_lines join orders on orders.id = order_id order by order_lines.id`
  ).map(({ words }) => words);

describe("what a file may say besides", () => {
  it("is taken: agreed prices, the list's for the others, the customer's number, the note", async () => {
    const { otter, cedar, oat } = desk();
    const { db, sql } = application.database;
    await insertPriceList(db, {
      prices: [
        [cedar, 250],
        [oat, 300],
      ],
    });
    await sql`update customers set order_discount_basis_points = 500, shipping_minor = 690 where id = ${otter}`;
    const preview = await look(
      [
        WIDE,
        'W-301,The Lamplit Otter,2027-03-05,2027-03-08,Cedar ball,36,"2,40",PO 77,"Ring twice"',
        "W-301,The Lamplit Otter,2027-03-05,,Oat ball,24,,,",
      ].join("\n"),
    );
    for (const words of ["36 Cedar ball at €2.40", "their PO 77", "Ring twice", "needed by Mon 8 Mar"])
      expect(preview.body).toContain(words);
    await take(preview.body);
    expect(await pricesNow()).toEqual(["W-301 36 at 240", "W-301 24 at 300"]);
    const [order] = await sql`select needed_by::text, customer_reference, note, source, currency,
      discount_basis_points as discount, shipping_minor::integer as shipping from orders`;
    expect(order).toEqual({
      needed_by: "2027-03-08",
      customer_reference: "PO 77",
      note: "Ring twice",
      source: "file",
      currency: "EUR",
      discount: 500,
      shipping: 690,
    });
    const [entry] = await sql`select after from changes where subject = 'order'`;
    expect(entry?.after).toMatchObject({
      neededBy: "2027-03-08",
      currency: "EUR",
      shippingMinor: 690,
      lines: [{ unitPriceMinor: 240 }, { unitPriceMinor: 300 }],
    });
  });

  it("is the same order when the file comes again, and another one with another price, number or note", async () => {
    const line = "W-301,The Lamplit Otter,2027-03-05,,Cedar ball,36,2.40,PO 77,Ring twice";
    const send = (row: string) => look(`${WIDE}\n${row}`);
    await take((await send(line)).body);
    expect((await send(line)).body).toContain("all of it was taken before");
    expect((await send(line.replace("2.40,PO 77,Ring twice", ",,"))).body).toContain(
      "all of it was taken before",
    );
    for (const other of [
      line.replace("2.40", "2.50"),
      line.replace("77", "78"),
      line.replace("twice", "once"),
    ])
      expect(badLines((await send(other)).body)[2]).toMatch(/^W-301 is there already, with other content/);
  });

  it("reckons the ship-by date back over the working days that the customer's parcels take", async () => {
    const { db, sql } = application.database;
    await insertWorkingWeek(db);
    await sql`update customers set takes_by = 'parcel', transit_days = 2 where id = ${desk().otter}`;
    const file = "order,customer,needed_by,product,units\nW-301,The Lamplit Otter,2027-03-15,Cedar ball,36";
    await take((await look(file)).body);
    // Monday 15 March less Friday and Thursday: two working days under way.
    expect(await ordersNow(application)).toEqual(["W-301 confirmed complete 2027-03-11: 36 Cedar ball"]);
    const soon = await look(file.replace("W-301", "W-302").replace("03-15", "03-02"));
    expect(badLines(soon.body)[2]).toMatch(
      /^To be there on Tuesday 2 March it had to leave by Friday 26 February; today is Monday 1 March\./,
    );
  });

  it("is named where it is wrong", async () => {
    const answer = await look(
      [
        WIDE,
        "W-301,The Lamplit Otter,2027-03-05,,Cedar ball,36,1.234,,",
        "W-302,The Lamplit Otter,2027-03-05,,Cedar ball,36,-2,,",
        "W-303,The Lamplit Otter,2027-03-05,,Cedar ball,36,2.405,,",
        "W-304,The Lamplit Otter,,,Cedar ball,36,,,",
        `W-305,The Lamplit Otter,2027-03-05,,Cedar ball,36,,${"9".repeat(61)},${"n".repeat(2001)}`,
        "W-306,The Lamplit Otter,2027-03-05,,Cedar ball,36,,A 1,",
        "W-306,The Lamplit Otter,2027-03-05,,Oat ball,36,,A 2,",
      ].join("\n"),
    );
    expect(badLines(answer.body)).toEqual({
      2: expect.stringContaining("“1.234” is no price here. This could be read in two ways"),
      3: "“-2” is no price here. Give an amount such as 4.50.",
      4: expect.stringContaining("“2.405” is no price here."),
      5: "Say by when: fill in ship_by or needed_by.",
      6: expect.stringMatching(/own number: at most 60 characters on one line\.\nThe note is too long/),
      8: "their_number says “A 2”, but line 7 says otherwise for the same order W-306.",
    });
    expect(await ordersNow(application)).toEqual([]);
  });

  it("is not taken in another currency than it was shown in", async () => {
    const preview = await look(`${WIDE}\nW-301,The Lamplit Otter,2027-03-05,,Cedar ball,36,2.40,,`);
    await application.database.sql`update workshop set currency = 'DKK'`;
    const answer = await take(preview.body);
    expect([answer.statusCode, badLines(answer.body)[2]]).toEqual([
      409,
      "The workshop's currency is DKK now: look at the prices again.",
    ]);
    expect(await ordersNow(application)).toEqual([]);
  });

  it("is taken for 5 000 orders of one line each", async () => {
    const rows = Array.from(
      { length: 5000 },
      (_, row) =>
        `X-${row},Heron & Thimble,2027-03-09,,Cedar ball,${1 + (row % 90)},1.${10 + (row % 90)},N ${row},`,
    );
    const preview = await look([WIDE, ...rows].join("\r\n"));
    expect(preview.body).toContain("5\u202f000 lines read and checked.");
    expect((await take(preview.body)).headers.location).toBe("/orders?taken=5000");
    const [counts] = await application.database.sql`select count(*)::integer as lines,
      count(distinct customer_reference)::integer as numbers from order_lines join orders on orders.id = order_id
      where priced_at is not null`;
    expect(counts).toEqual({ lines: 5000, numbers: 5000 });
  });
});

describe("how a file is written", () => {
  const TAKEN = ["W-301 confirmed complete 2027-03-05: 36 Cedar ball"];

  it.each([
    [
      "semicolons and decimal commas",
      "order;customer;ship_by;product;units;price\r\nW-301;The Lamplit Otter;2027-03-05;Cedar ball;36;2,40\r\n",
    ],
    [
      "semicolons after a byte order mark, with one inside quotation marks",
      '\ufeff"order";"customer";"ship_by";"product";"units";"price";"note"\nW-301;The Lamplit Otter;2027-03-05;Cedar ball;36;"2,40";"bell; then door"\n',
    ],
    [
      "tabs",
      "order\tcustomer\tship_by\tproduct\tunits\tprice\nW-301\tThe Lamplit Otter\t2027-03-05\tCedar ball\t36\t2,40\n",
    ],
    [
      "commas and a decimal point",
      "order,customer,ship_by,product,units,price\nW-301,The Lamplit Otter,2027-03-05,Cedar ball,36,2.40",
    ],
  ])("does not matter to what it says: %s", async (_, content) => {
    await take((await look(content)).body);
    expect([await ordersNow(application), await pricesNow()]).toEqual([TAKEN, ["W-301 36 at 240"]]);
  });

  it("may be pasted from a spreadsheet: tabs, quoted cells with line breaks in them", async () => {
    const preview = await paste(
      'order\tcustomer\tship_by\tproduct\tunits\tnote\r\nW-301\tThe Lamplit Otter\t2027-03-05\tCedar ball\t36\t"Ring\r\ntwice"\r\n',
    );
    expect(preview.body).toContain("what was pasted holds 1 new order with 36 pieces.");
    await take(preview.body);
    expect(await ordersNow(application)).toEqual(TAKEN);
  });

  it("keeps what was pasted on the page where it has to be mended, and takes no file beside it", async () => {
    const pasted =
      "order\tcustomer\tship_by\tproduct\tunits\nW-301\tThe Lamplit Otter\tsoon\tCedar ball\t36\n";
    const wrong = await paste(pasted);
    expect(wrong.statusCode).toBe(422);
    expect(wrong.body).toContain("W-301\tThe Lamplit Otter\tsoon\tCedar ball\t36");
    const both = await look("order", { pasted });
    expect([both.statusCode, both.body.includes("Send a file or paste cells, one at a time.")]).toEqual([
      422,
      true,
    ]);
  });

  it.each([
    ["day-first", "5.3.2027", "2027-03-05"],
    ["day-first", "05/03/2027", "2027-03-05"],
    ["day-first", "2027-03-05", "2027-03-05"],
    ["month-first", "3/5/2027", "2027-03-05"],
    ["month-first", "05-03-2027", "2027-05-03"],
    ["iso", "2027-03-05", "2027-03-05"],
  ])("dates %s: %s is %s", async (dates, typed, shipBy) => {
    const file = `order,customer,ship_by,product,units\nW-301,The Lamplit Otter,${typed},Cedar ball,36`;
    await take((await look(file, { dates })).body);
    expect(await ordersNow(application)).toEqual([`W-301 confirmed complete ${shipBy}: 36 Cedar ball`]);
  });

  it.each([
    ["iso", "5.3.2027"],
    ["day-first", "3/31/2027"],
    ["month-first", "31/3/2027"],
    ["day-first", "29.2.2027"],
    ["day-first", "5.3.27"],
    ["day-first", "5.3/2027"],
    ["year-last", "5.3.2027"],
  ])("dates are never guessed: %s has no %s", async (dates, typed) => {
    const file = `order,customer,ship_by,product,units\nW-301,The Lamplit Otter,${typed},Cedar ball,36`;
    const answer = await look(file, { dates });
    expect(answer.statusCode).toBe(422);
    expect(badLines(answer.body)[2]).toContain(`“${typed}” is no date of the calendar`);
  });
});
