import { randomUUID } from "node:crypto";
import type { TransactionSql } from "postgres";
import { beforeEach, describe, expect, it } from "vitest";
import { textOf } from "../build/pageText.ts";
import { insertBlend } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { ordersNow, useDesk } from "./desk.ts";
import { badLines, orderFiles } from "./orderFiles.ts";

const { application, desk } = useDesk();
const { look, answer, take } = orderFiles(() => desk().owner);

const FILE = [
  "order,customer,terms,ship_by,product,units",
  "W-301,Lamplit Otter Ltd,,2027-03-05,Cedar ball,36",
  "W-301,Lamplit Otter Ltd,,2027-03-05,Oaty ball,24",
  "W-302,Heron & Thimble,,2027-03-08,Oaty ball,12",
  "W-302,Heron & Thimble,,2027-03-08,Black tea ball,6",
].join("\r\n");

beforeEach(() => application.database.sql`truncate file_meanings`);

const remembered = async () =>
  (
    await application.database.sql<{ words: string }[]>`
    select what || ' ' || written_as || ': ' || coalesce(customers.name, products.name, meaning) as words
    from file_meanings left join customers on customers.id = customer_id
      left join products on products.id = product_id order by what, written_as`
  ).map(({ words }) => words);

describe("names in a file that nobody knows", () => {
  it("are asked about once each, with the known ones most like them first, and nothing is written", async () => {
    const page = await look(FILE);
    expect(page.statusCode).toBe(200);
    expect(textOf(page.body)).toContain("Nothing was taken yet: 2 names in week.csv are not known here.");
    expect(page.body.match(/name="name_means"/g)).toHaveLength(2);
    expect(page.body).toContain(
      `<optgroup label="Most like it"><option value="same:${desk().otter}">The Lamplit Otter</option>`,
    );
    expect(page.body).toContain(
      `<optgroup label="Most like it"><option value="same:${desk().oat}">Oat ball</option>`,
    );
    expect([await remembered(), await ordersNow(application)]).toEqual([[], []]);
  });

  it("can be the same as known ones: the preview comes, and the next file is not asked about", async () => {
    const { otter, oat } = desk();
    const preview = await answer((await look(FILE)).body, {
      "Lamplit Otter Ltd": `same:${otter}`,
      "Oaty ball": `same:${oat}`,
    });
    expect(preview.body).toContain("week.csv holds 2 new orders with 78 pieces. Take them?");
    expect(await ordersNow(application)).toEqual([]);
    await take(preview.body);
    expect(await ordersNow(application)).toEqual([
      "W-301 confirmed complete 2027-03-05: 36 Cedar ball, 24 Oat ball",
      "W-302 confirmed as-ready 2027-03-08: 12 Oat ball, 6 Black tea ball",
    ]);
    const next = await look(FILE.replaceAll("W-3", "W-4").replaceAll("Oaty ball", "OATY  Ball"));
    expect(next.body).toContain("week.csv holds 2 new orders with 78 pieces.");
    const [entry] = await application.database.sql`
      select count(*)::integer as entries from changes where subject = 'file name' and what = 'remembered'`;
    expect(entry?.entries).toBe(2);
  });

  it("can be left out, which the preview says, now and next time", async () => {
    const answers = { "Lamplit Otter Ltd": "leave-out", "Oaty ball": "leave-out" };
    const preview = await answer((await look(FILE)).body, answers);
    const again = await look(FILE);
    for (const page of [preview, again]) {
      expect(page.body).toContain("week.csv holds 1 new order with 6 pieces. Take it?");
      expect(textOf(page.body)).toContain(
        "“Lamplit Otter Ltd”, a customer, in 2 lines; “Oaty ball”, a product, in 1 line",
      );
    }
    await take(preview.body);
    expect(await ordersNow(application)).toEqual(["W-302 confirmed as-ready 2027-03-08: 6 Black tea ball"]);
    const nothing = await look(FILE.split("\r\n").slice(0, 3).join("\r\n"));
    expect(textOf(nothing.body)).toContain(
      "Nothing in week.csv is left to take: all its lines are left out.",
    );
    expect(nothing.body).not.toContain("/orders/import/taking");
  });

  it("can be added: a customer with its name alone, a product where its blend and its shape are there", async () => {
    const { db, sql } = application.database;
    const blendId = await insertBlend(db, { code: "moss-mint", name: "Moss mint" });
    const [shape] = await sql<{ id: number }[]>`select id from shapes`;
    const asked = await look(FILE);
    expect(asked.body).toContain(`<option value="new:${blendId}:${shape?.id}">`);
    const preview = await answer(asked.body, {
      "Lamplit Otter Ltd": "shop",
      "Oaty ball": `new:${blendId}:${shape?.id}`,
    });
    await take(preview.body);
    const [added] =
      await sql`select kind, priority_weight::float as weight, shipping_minor::integer as shipping
      from customers where name = 'Lamplit Otter Ltd'`;
    expect(added).toEqual({ kind: "shop", weight: 1, shipping: 0 });
    const [made] = await sql`select products.code from order_lines join products on products.id = product_id
      join orders on orders.id = order_id where reference = 'W-302' and units = 12`;
    expect(made?.code).toMatch(/^moss-mint\//);
  });

  it("are asked about again where an answer is missing or names what is not there, and nothing is written", async () => {
    const { otter, cedar } = desk();
    const asked = (await look(FILE)).body;
    await application.database.sql`update customers set retired_at = now() where id = ${otter}`;
    for (const [customer, product, words] of [
      ["", `same:${cedar}`, "Choose what it means."],
      [`same:${otter}`, `same:${cedar}`, "That is no longer there: choose again."],
      ["new:1:1", `same:${cedar}`, "That is no longer there: choose again."],
      ["shop", "new:999:999", "That is no longer there: choose again."],
      ["shop", "shop", "That is no longer there: choose again."],
      ["'; drop table customers", `same:${cedar}`, "Choose what it means."],
    ] as const) {
      const answers = { "Lamplit Otter Ltd": customer, "Oaty ball": product };
      const page = await answer(asked, answers);
      expect([page.statusCode, page.body.includes(words)]).toEqual([422, true]);
    }
    const [counts] = await application.database.sql`
      select count(*)::integer as customers from customers`;
    expect([await remembered(), counts?.customers]).toEqual([[], 3]);
  });

  it("mean the same however often the answers are sent, even at the same moment", async () => {
    const asked = (await look(FILE)).body;
    const answers = { "Lamplit Otter Ltd": "shop", "Oaty ball": "leave-out" };
    const held = (gate: TransactionSql) => gate`select pg_advisory_xact_lock(hashtext('orders.reference'))`;
    const token = randomUUID();
    const pages = await overlapping(application.database.sql, held, [
      () => answer(asked, answers, token),
      () => answer(asked, answers),
    ]);
    for (const page of [...pages, await answer(asked, answers, token)])
      expect(page.body).toContain("week.csv holds 2 new orders with 42 pieces.");
    expect(await remembered()).toEqual(["product Oaty ball: leave-out"]);
  });

  it("are not asked about while the file has to be mended anyway, but told with the other mistakes", async () => {
    const page = await look(FILE.replace("Black tea ball,6", "Black tea ball,none"));
    expect(page.statusCode).toBe(422);
    expect(Object.keys(badLines(page.body))).toEqual(["2", "3", "4", "5"]);
  });

  it("ask which product is meant where several have the name", async () => {
    const { sql } = application.database;
    await sql`update products set name = 'Oaty ball' where name in ('Oat ball', 'Black tea ball')`;
    const asked = await look(
      FILE.replaceAll("Lamplit Otter Ltd", "The Lamplit Otter").split("\r\nW-302")[0] ?? "",
    );
    const preview = await answer(asked.body, { "Oaty ball": `same:${desk().tea}` });
    await take(preview.body);
    const [line] = await sql`select product_id as id from order_lines where units = 24`;
    expect(line?.id).toBe(desk().tea);
  });
});

describe("what is remembered", () => {
  it("is shown to the owner, and what is forgotten is asked again", async () => {
    const { otter, owner, helper } = desk();
    const answers = { "Lamplit Otter Ltd": `same:${otter}`, "Oaty ball": "leave-out" };
    await answer((await look(FILE)).body, answers);
    const page = await owner.get("/orders/import/names");
    expect(textOf(page.body)).toContain("What 2 names in files mean is remembered.");
    expect(textOf(page.body)).toContain("its lines are left out");
    const [row] = await application.database.sql<
      { id: number }[]
    >`select id from file_meanings where what = 'product'`;
    const address = `/orders/import/names/${row?.id}/forgetting`;
    expect((await helper.get("/orders/import/names")).statusCode).toBe(403);
    expect((await helper.post(address, {}, { from: "/week" })).statusCode).toBe(403);
    const forgotten = await owner.post(address, {}, { from: "/orders/import/names" });
    expect([forgotten.statusCode, await remembered()]).toEqual([
      303,
      ["customer Lamplit Otter Ltd: The Lamplit Otter"],
    ]);
    expect((await owner.post(address, {}, { from: "/orders/import/names" })).statusCode).toBe(404);
    expect(textOf((await look(FILE)).body)).toContain("1 name in week.csv is not known here");
  });

  it("gives way to a customer who has the name itself", async () => {
    const answers = { "Lamplit Otter Ltd": "leave-out", "Oaty ball": "leave-out" };
    await answer((await look(FILE)).body, answers);
    await application.database
      .sql`update customers set name = 'Lamplit Otter LTD' where id = ${desk().otter}`;
    expect((await look(FILE)).body).toContain("week.csv holds 2 new orders with 42 pieces.");
  });
});
