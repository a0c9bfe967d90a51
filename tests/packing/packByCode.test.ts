import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { elementString } from "../../server/labels/gs1.ts";
import { useApplication } from "../build/application.ts";
import { textOf } from "../build/pageText.ts";
import { insertDryingLot, insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { emptyWorkroom, firstOf, insertLamplitOtter, onShelf, openWorkroom } from "./workroom.ts";

const application = useApplication();
const { database } = application;
let fig: Visitor;
let customerId: number;
let orderId: number;
let lineId: number;
let lotId: number;

beforeAll(async () => {
  ({ fig } = await openWorkroom(application));
});

/** W-104 wants 20 Cedar balls; lot K7Q has 12 of them, M3X has 30; D4R still dries, and J9T is something else. */
beforeEach(async () => {
  await emptyWorkroom(database);
  const { db } = database;
  const cedar = await insertProduct(db, { name: "Cedar ball" });
  const oat = await insertProduct(db, { name: "Oat puck", code: "oat/puck-40" });
  lotId = await insertReadyLot(db, { productId: cedar, units: 12 });
  await insertReadyLot(db, { productId: cedar, units: 30, code: "M3X" });
  await insertReadyLot(db, { productId: oat, units: 30, code: "J9T" });
  await insertDryingLot(db, { productId: cedar, units: 30 });
  customerId = await insertLamplitOtter(db);
  const order = await insertOrder(db, { customerId, lines: [{ productId: cedar, units: 20 }] });
  orderId = order.orderId;
  lineId = firstOf(order.lineIds);
});

describe("a lot's code, typed or scanned", () => {
  it("packs what the lot can give, then what the order still needs, and says who packed what last", async () => {
    const answer = await scan("k7q");
    expect([answer.statusCode, answer.headers.location]).toEqual([303, `/packing/${orderId}?next=scan`]);
    expect(await packed()).toEqual({ K7Q: 12 });
    await scan("M3X");
    expect(await packed()).toEqual({ K7Q: 12, M3X: 8 });
    const page = (await fig.get(`/packing/${orderId}`)).body;
    expect(textOf(page)).toContain("Fig Underhill packed 8 of lot M3X, Cedar ball.");
  });

  it("packs the number typed beside it, from the element string of a label too", async () => {
    const { plain } = elementString({ gtin: "9521234543213", producedOn: "2027-03-01", lot: "M3X" });
    expect((await scan(`]Q3${plain}`, "5")).statusCode).toBe(303);
    expect(await packed()).toEqual({ M3X: 5 });
  });

  it("has the keyboard again after each take, without a script too", async () => {
    const field = async (address: string) =>
      /<input[^>]*id="scanned-lot"[^>]*>/.exec((await fig.get(address)).body)?.[0] ?? "";
    expect(await field(`/packing/${orderId}?next=scan`)).toContain("autofocus");
    expect(await field(`/packing/${orderId}`)).not.toContain("autofocus");
  });

  it("packs once, however often the form is sent", async () => {
    const formToken = randomUUID();
    await Promise.all([1, 2, 3].map(() => scan("M3X", "5", formToken)));
    expect(await packed()).toEqual({ M3X: 5 });
  });

  it.each([
    ["X9X", "", "No lot has the code X9X."],
    ["soap!", "", "That holds no lot code: a lot has 3 to 8 letters and digits."],
    ["", "", "Fill this in."],
    ["J9T", "", "Lot J9T is Oat puck, which W-104 does not ask for."],
    ["D4R", "", "Lot D4R still dries and may not be packed yet."],
    ["K7Q", "13", "Only 12 of lot K7Q are left."],
    ["M3X", "21", "Only 20 pieces are left to pack on this line."],
    ["M3X", "some", "Give a whole number from 1 to 100 000."],
  ])(
    "refuses %j with %j pieces in a sentence beside the field, and changes nothing",
    async (code, units, words) => {
      const answer = await scan(code, units);
      expect(answer.statusCode).toBe(422);
      expect(textOf(answer.body)).toContain(words);
      const field = /<input[^>]*id="scanned-lot"[^>]*>/.exec(answer.body)?.[0];
      expect(field).toContain(code === "" ? "value" : `value="${code}"`);
      expect(await packed()).toEqual({});
    },
  );

  it("refuses a lot that is used up, and a line that is full", async () => {
    await scan("K7Q");
    expect(textOf((await scan("K7Q")).body)).toContain("Nothing of lot K7Q is left on the shelf.");
    await scan("M3X");
    expect(textOf((await scan("M3X")).body)).toContain("All 20 of Cedar ball are packed already.");
    expect(await packed()).toEqual({ K7Q: 12, M3X: 8 });
  });

  it("leaves what the owner keeps for another order, and says for which when nothing else is there", async () => {
    const [lot] = await database.sql<{ id: number; productId: number }[]>`
      select id, product_id as "productId" from lots where code = 'M3X'`;
    if (!lot) throw new Error("M3X is there");
    const lines = [{ productId: lot.productId, units: 40 }];
    const other = await insertOrder(database.db, { customerId, reference: "W-105", lines });
    const keep = (units: number) => database.sql`
      insert into kept_pieces (lot_id, order_line_id, units, kept_at)
      values (${lot.id}, ${firstOf(other.lineIds)}, ${units}, now())
      on conflict (lot_id, order_line_id) do update set units = ${units}`;
    await keep(25);
    expect((await scan("M3X")).statusCode).toBe(303);
    expect(await packed()).toEqual({ M3X: 5 });
    expect(textOf((await scan("M3X")).body)).toContain("W-105");
    expect(await packed()).toEqual({ M3X: 5 });
  });

  it("says so when the order has left meanwhile", async () => {
    await database.sql`update orders set state = 'shipped', packed_at = now(), shipped_at = now()`;
    const answer = await scan("K7Q");
    expect(answer.statusCode).toBe(409);
    expect(textOf(answer.body)).toContain("W-104 has left the workshop");
    expect(await onShelf(database, lotId)).toBe(12);
  });
});

describe("a packing note", () => {
  it("stands on the order for whoever packs it, until it is done with, and the history keeps it", async () => {
    const words = "Ribbon on the lid,\nnot <b>round</b> it";
    expect((await post(`/packing/${orderId}/notes`, { note: words })).statusCode).toBe(303);
    const page = (await fig.get(`/packing/${orderId}`)).body;
    expect(textOf(page)).toContain("Fig Underhill, Mon 1 Mar 08:00");
    expect(page).toContain("not &lt;b>round");
    expect((await fig.get(`/delivery/orders/${orderId}`)).body).toContain("Ribbon on the lid");
    const [note] = await database.sql<{ id: number }[]>`select id from packing_notes`;
    await post(`/packing/${orderId}/notes/${note?.id}/removal`, {});
    // Taken away a second time by somebody else, it is gone all the same.
    expect((await post(`/packing/${orderId}/notes/${note?.id}/removal`, {})).statusCode).toBe(303);
    expect((await fig.get(`/packing/${orderId}`)).body).not.toContain("Ribbon");
    const changes = await database.sql`
      select what, before, after from changes where subject = 'order' and subject_id = ${orderId} order by id`;
    expect(changes).toEqual([
      { what: "packing note written", before: null, after: { words } },
      { what: "packing note taken away", before: { words }, after: null },
    ]);
  });

  it("has to say something, in at most 300 characters, about an order that is there", async () => {
    for (const note of ["  ", "x".repeat(301)])
      expect((await post(`/packing/${orderId}/notes`, { note })).statusCode).toBe(422);
    expect((await post("/packing/999999/notes", { note: "Ribbon" })).statusCode).toBe(404);
  });
});

function scan(code: string, units = "", formToken = randomUUID()) {
  const fields = { scanned: code, scanned_units: units, last_move: "0" };
  return fig.post(`/packing/${orderId}/scans`, fields, { from: "/packing", formToken });
}

function post(address: string, fields: Record<string, string>) {
  return fig.post(address, fields, { from: "/packing" });
}

/** Pieces in the order's box by lot. */
async function packed() {
  const rows = await database.sql<{ code: string; units: number }[]>`
    select code, -sum(units)::integer as units from moves join lots on lots.id = lot_id
    where order_line_id = ${lineId} group by code order by code`;
  return Object.fromEntries(rows.map(({ code, units }) => [code, units]));
}
