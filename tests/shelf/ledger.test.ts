import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { firstOwner, newHelper, useApplication } from "../build/application.ts";
import { textOf } from "../build/pageText.ts";
import {
  insertCustomer,
  insertDryingLot,
  insertOrder,
  insertProduct,
  insertReadyLot,
  insertWorkshop,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { overlapping } from "../db/overlapping.ts";

const application = useApplication();
let helper: Visitor;
let cedar: number;
let lotId: number;

beforeAll(async () => {
  const owner = await firstOwner(application);
  await insertWorkshop(application.database.db);
  helper = await newHelper(application, owner);
});

/** 24 pieces of lot K7Q on the shelf. */
beforeEach(async () => {
  const { db, sql } = application.database;
  await sql`truncate blends, shapes, customers, changes restart identity cascade`;
  cedar = await insertProduct(db, { name: "Cedar amber ball" });
  lotId = await insertReadyLot(db, { productId: cedar, units: 24 });
});

const lose = (units: number, cause = "cracked", formToken = randomUUID()) =>
  helper.post(
    `/shelf/${lotId}/loss`,
    { lostUnits: String(units), cause, lossNote: "fell off the tray" },
    { from: "/shelf/ready-stock", formToken },
  );
const count = (counted: number, expected: number, formToken = randomUUID()) =>
  helper.post(
    `/shelf/${lotId}/count`,
    { counted: String(counted), expected: String(expected), countNote: "" },
    { from: "/shelf/ready-stock", formToken },
  );
const moves = async () =>
  (
    await application.database.sql`select concat_ws(' ', kind, units, cause) as move from moves
      where lot_id = ${lotId} order by id`
  ).map((row) => row.move as string);
const balance = async () =>
  (await application.database.sql`select units from lot_balances where lot_id = ${lotId}`)[0]?.units;

describe("losing pieces", () => {
  it("takes them off by a move with its cause, and says who, before and after", async () => {
    expect((await lose(3)).headers.location).toBe(`/shelf/${lotId}`);
    expect(await moves()).toEqual(["made 24", "lost -3 cracked"]);
    expect(
      await application.database.sql`select what, before, after from changes where subject = 'lot'`,
    ).toMatchObject([{ what: "lost pieces", before: { units: 24 }, after: { units: 21, cause: "cracked" } }]);
    const page = (await helper.get(`/shelf/${lotId}`)).body;
    expect(page).toContain("lost, cracked");
    expect(page).toContain("Fig Underhill");
    expect(page).toContain("fell off the tray");
  });

  it("goes down to the last piece and no further", async () => {
    const over = await lose(25);
    expect(over.statusCode).toBe(409);
    expect(over.body).toContain("Only 24 pieces of this lot are there now. Nothing was changed.");
    expect((await lose(24)).statusCode).toBe(303);
    expect(await balance()).toBe(0);
  });

  it("happens once when the form is sent twice", async () => {
    const formToken = randomUUID();
    await lose(3, "cracked", formToken);
    expect((await lose(3, "cracked", formToken)).statusCode).toBe(303);
    expect(await balance()).toBe(21);
  });

  it("lets one of two win who each lose more than half at the same moment, and tells the other what is left", async () => {
    const { sql } = application.database;
    const answers = await overlapping(
      sql,
      (gate) => gate`select 1 from lots where id = ${lotId} for update`,
      [() => lose(20), () => lose(20)],
    );
    expect(answers.map((answer) => answer.statusCode).sort()).toEqual([303, 409]);
    expect(answers.find((answer) => answer.statusCode === 409)?.body).toContain("Only 4 pieces of this lot");
    expect(await balance()).toBe(4);
  });

  it("needs a cause of the list and a number, and keeps what was typed", async () => {
    const answer = await lose(0, "eaten");
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("Give a whole number from 1 to 100\u202f000.");
    expect(answer.body).toContain("Choose what became of them.");
    expect(answer.body).toContain('value="fell off the tray"');
    expect(await moves()).toEqual(["made 24"]);
  });

  it("knows no pieces of a lot that was never pressed, and no other lot", async () => {
    const { sql } = application.database;
    await sql`insert into lots (code, product_id, state, trays, created_at) values ('WDRN', ${cedar}, 'withdrawn', 0, now())`;
    const [withdrawn] = await sql`select id from lots where code = 'WDRN'`;
    lotId = withdrawn?.id;
    expect((await lose(1)).statusCode).toBe(409);
    lotId = 999;
    expect((await lose(1)).statusCode).toBe(404);
    expect((await count(1, 1)).statusCode).toBe(404);
    expect((await helper.get("/shelf/none")).statusCode).toBe(404);
  });
});

describe("counting", () => {
  it("writes the difference as a move, up or down", async () => {
    expect((await count(22, 24)).statusCode).toBe(303);
    await count(25, 22);
    expect(await moves()).toEqual(["made 24", "counted -2", "counted 3"]);
    expect(
      await application.database.sql`select before, after from changes where what = 'counted' order by id`,
    ).toMatchObject([
      { before: { units: 24 }, after: { units: 22 } },
      { before: { units: 22 }, after: { units: 25 } },
    ]);
  });

  it("moves nothing when it agrees, but says that somebody counted", async () => {
    expect((await count(24, 24)).statusCode).toBe(303);
    expect(await moves()).toEqual(["made 24"]);
    expect(await application.database.sql`select 1 from changes where what = 'counted'`).toHaveLength(1);
  });

  it("is void when the ledger moved on since the page was opened, and shows the newer number", async () => {
    await lose(4);
    const answer = await count(23, 24);
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("the ledger now says 20 pieces");
    expect(answer.body).toContain('name="expected" value="20"');
    expect(answer.body).toContain('value="23"');
    expect(await balance()).toBe(20);
  });

  it("lets one of two win who count at the same moment", async () => {
    const { sql } = application.database;
    const answers = await overlapping(
      sql,
      (gate) => gate`select 1 from lots where id = ${lotId} for update`,
      [() => count(20, 24), () => count(22, 24)],
    );
    expect(answers.map((answer) => answer.statusCode).sort()).toEqual([303, 409]);
    expect([20, 22]).toContain(await balance());
    expect(await moves()).toHaveLength(2);
  });

  it("never takes a blank for zero", async () => {
    const answer = await helper.post(
      `/shelf/${lotId}/count`,
      { counted: " ", expected: "24", countNote: "" },
      { from: "/shelf/ready-stock" },
    );
    expect(answer.statusCode).toBe(422);
    expect(await balance()).toBe(24);
  });
});

describe("the shelf", () => {
  it("says in a sentence what stands there, lies drying, and waits in boxes", async () => {
    const { db, sql } = application.database;
    await insertDryingLot(db, { productId: cedar, units: 12, code: "DRYG" });
    const customerId = await insertCustomer(db);
    const { orderId, lineIds } = await insertOrder(db, {
      customerId,
      lines: [{ productId: cedar, units: 10 }],
    });
    await sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lotId}, 'packed', -10, ${lineIds[0] ?? 0}, now())`;
    await sql`update orders set state = 'packing' where id = ${orderId}`;
    const body = (await helper.get("/shelf")).body;
    expect(body).toContain(
      "<h1>14 pieces on the shelf in 1 lot; 10 pieces packed and waiting to leave; 12 pieces drying or resting.</h1>",
    );
    expect(textOf(body)).toContain("10 pieces in the box for W-104");
    expect((await helper.get(`/shelf/${lotId}`)).body).toContain("packed for W-104");
  });

  it("shows a lot that is all packed until it has left, then no more", async () => {
    const { db, sql } = application.database;
    const customerId = await insertCustomer(db);
    const { orderId, lineIds } = await insertOrder(db, {
      customerId,
      lines: [{ productId: cedar, units: 24 }],
    });
    await sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lotId}, 'packed', -24, ${lineIds[0] ?? 0}, now())`;
    await sql`update orders set state = 'packed', packed_at = now() where id = ${orderId}`;
    expect(textOf((await helper.get("/shelf")).body)).toContain("24 pieces in the box for W-104");
    await sql`insert into deliveries (order_id, how, state, shipped_at) values (${orderId}, 'parcel', 'shipped', now())`;
    await sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
      select id, ${lineIds[0] ?? 0}, ${lotId}, 24 from deliveries`;
    expect((await helper.get("/shelf")).body).toContain("<h1>The shelf is empty.</h1>");
    expect((await helper.get(`/shelf/${lotId}`)).body).toContain("24 of them shipped");
  });

  it("shows notes as text, never runs them", async () => {
    await helper.post(
      `/shelf/${lotId}/loss`,
      { lostUnits: "1", cause: "sample", lossNote: "<script>alert(1)</script>" },
      { from: "/shelf/ready-stock" },
    );
    expect((await helper.get(`/shelf/${lotId}`)).body).not.toContain("<script>alert");
  });

  it("is not for strangers", async () => {
    const stranger = application.stranger();
    for (const address of ["/shelf", `/shelf/${lotId}`, "/shelf/ready-stock", "/shelf/drying-stock"]) {
      expect((await stranger.get(address)).headers.location).toContain("/sign-in");
    }
  });
});

describe("past the commands", () => {
  it("the tables refuse a sum below zero, a sign that does not fit, and a loss without its cause", async () => {
    const { sql } = application.database;
    await expect(
      sql`insert into moves (lot_id, kind, units, cause, at) values (${lotId}, 'lost', -25, 'cracked', now())`,
    ).rejects.toThrow("a lot never has fewer than no pieces");
    await expect(
      sql`insert into moves (lot_id, kind, units, cause, at) values (${lotId}, 'lost', 2, 'cracked', now())`,
    ).rejects.toThrow("moves_sign");
    await expect(
      sql`insert into moves (lot_id, kind, units, at) values (${lotId}, 'lost', -2, now())`,
    ).rejects.toThrow("moves_lost_has_its_cause");
    await expect(
      sql`insert into moves (lot_id, kind, units, at) values (${lotId}, 'counted', 0, now())`,
    ).rejects.toThrow("moves_sign");
  });

  it("the tables refuse to rewrite or remove a move", async () => {
    const { sql } = application.database;
    await expect(sql`update moves set units = 30 where lot_id = ${lotId}`).rejects.toThrow("is a ledger");
    await expect(sql`delete from moves where lot_id = ${lotId}`).rejects.toThrow("is a ledger");
  });
});
