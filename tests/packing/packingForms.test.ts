import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertDryingLot, insertOrder, insertPlan, insertProduct, insertReadyLot } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { sheetsOf, squaresOf } from "../papers/pdfText.ts";
import {
  emptyWorkroom,
  firstOf,
  insertLamplitOtter,
  onShelf,
  openWorkroom,
  orderNow,
  otterSecrets,
} from "./workroom.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let fig: Visitor;
let cedar: number;
let customerId: number;
let lotId: number;

beforeAll(async () => {
  ({ owner, fig } = await openWorkroom(application));
});

/** 12 of lot K7Q on the shelf. */
beforeEach(async () => {
  await emptyWorkroom(database);
  cedar = await insertProduct(database.db, { name: "Cedar ball" });
  customerId = await insertLamplitOtter(database.db);
  lotId = await insertReadyLot(database.db, { productId: cedar, units: 12 });
});

describe("the packing list", () => {
  it("answers in a sentence first: how many can be packed whole, and what leaves next", async () => {
    await insertOrder(database.db, order("W-104", 5, { shipBy: "2027-03-01" }));
    await insertOrder(database.db, order("W-105", 7));
    await insertOrder(database.db, order("W-106", 7, { shipBy: "2027-03-08" }));
    expect(await heading("/packing")).toBe("Two orders can be packed whole now; W-104 leaves today.");
  });

  it("serves earlier promises first and says what the later ones wait for, and until when", async () => {
    await insertOrder(database.db, order("W-104", 10, { shipBy: "2027-03-04" }));
    await insertOrder(database.db, order("W-103", 20, { shipBy: "2027-03-05" }));
    await insertDryingLot(database.db, { productId: cedar, units: 12 });
    // 12 on the shelf: 10 for W-104, 2 for W-103, whose other 18 are 12 drying and 6 not made.
    const rows = rowsOf((await fig.get("/packing")).body);
    expect(rows[0]).toContain("W-104");
    expect(rows[0]).toContain("All 10 pieces");
    expect(rows[1]).toContain("W-103");
    expect(rows[1]).toContain("2 of 20");
    expect(rows[1]).toContain("12 Cedar ball, ready Wed 3 Mar 09:00 (lot D4R)");
    expect(rows[1]).toContain("6 Cedar ball, not made yet");
  });

  it("says by when the plan has what is not made yet, and where it has no answer", async () => {
    for (const [reference, units] of [
      ["W-101", 12],
      ["W-103", 5],
      ["W-104", 6],
      ["W-105", 7],
    ] as const)
      await insertOrder(database.db, order(reference, units, { shipBy: "2027-03-05" }));
    expect((await fig.get("/packing")).body).not.toContain("the plan");
    await insertPlan(database.db, { personId: 1 });
    await database.sql`update plans set answer = ${database.sql.json({
      orders: [
        { id: "W-101", readyOn: "2027-03-01", daysLate: 0, unitsShort: 0 },
        { id: "W-103", readyOn: "2027-03-04", daysLate: 0, unitsShort: 0 },
        { id: "W-104", readyOn: null, daysLate: 9, unitsShort: 6 },
      ],
    })}`;
    const rows = rowsOf((await fig.get("/packing")).body);
    // The first 12 stand on the shelf: of them the plan need not speak.
    expect(rows[0]).not.toContain("plan");
    expect(rows[1]).toContain("By the plan all of it is ready Thu 4 Mar.");
    expect(rows[2]).toContain("The plan leaves 6 pieces of it unmade.");
    expect(rows[3]).toContain("The plan does not know this order yet.");
    await database.sql`delete from plans`;
  });

  it("says that an order should have left, and lists by promise, then by reference", async () => {
    await insertOrder(database.db, order("W-107", 1, { shipBy: "2027-03-02" }));
    await insertOrder(database.db, order("W-105", 1, { shipBy: "2027-03-02" }));
    await insertOrder(database.db, order("W-109", 1, { shipBy: "2027-02-26" }));
    const page = (await fig.get("/packing")).body;
    expect(textOf(page)).toContain("W-109 should have left on Fri 26 Feb.");
    expect(rowsOf(page).map((row) => /W-\d+/.exec(row)?.[0])).toEqual(["W-109", "W-105", "W-107"]);
  });

  it("says so when there is nothing to do, and leaves out drafts and what has left", async () => {
    await insertOrder(database.db, order("W-104", 5, { state: "draft", confirmedAt: null }));
    expect(await heading("/packing")).toBe("Nothing waits to be packed.");
  });
});

describe("the gathered list by address", () => {
  it("is of all that can be packed whole, of the orders ticked, or of none", async () => {
    const [whole, part] = [await enter("W-103", 8), await enter("W-104", 9)];
    await database.sql`update lots set shelf_place = 'A3'`;
    const text = async (query: string) => textOf((await fig.get(`/packing/gathered${query}`)).body);
    expect(await text("")).toContain("Take 8 pieces from 1 lot for W-103.");
    expect(await text("")).toContain("A3 8 K7Q Cedar ball W-103 8");
    // Four of the twelve are left for the later one.
    expect(await text(`?order=${part.orderId}`)).toContain("Take 4 pieces from 1 lot for W-104.");
    const both = await text(`?order=${whole.orderId}&order=${part.orderId}`);
    expect(both).toContain("Take 12 pieces from 1 lot for two orders.");
    expect(both).toContain("W-103 8, W-104 4");
    expect(await text("?chosen=yes")).toContain("No order is chosen");
    expect(await text("?order=x&order=-1")).toContain("No order is chosen");
  });
});

describe("the gathered list on paper", () => {
  it("has every place, lot and order of its page, with a square to tick for each lot and each order's share", async () => {
    const [whole, part] = [await enter("W-103", 8), await enter("W-104", 9)];
    await database.sql`update lots set shelf_place = 'A3'`;
    const query = `order=${whole.orderId}&order=${part.orderId}`;
    const page = (await fig.get(`/packing/gathered?${query}`)).body;
    const address = /href="(\/packing\/gathered\/list\.pdf[^"]*)"/.exec(page)?.[1]?.replaceAll("&amp;", "&");
    expect(address).toBe(`/packing/gathered/list.pdf?${query}`);
    const answer = await fig.get(address ?? "");
    expect(answer.headers["content-disposition"]).toBe('attachment; filename="gathered-list-2027-03-01.pdf"');
    const [sheet = "", ...more] = await sheetsOf(answer.rawPayload);
    expect(more).toEqual([]);
    expect(sheet).toContain("For Two orders");
    expect(sheet).toContain("A3 12 K7Q Cedar ball 8 for W-103 4 for W-104");
    // One for the lot, one for each of the two shares.
    expect(await squaresOf(answer.rawPayload)).toEqual([3]);
    expect(sheet).toContain("Pieces to take 12");
    expect(sheet).toContain("W-104, The Lamplit Otter: leaves by");
  });

  it("is not drawn where there is nothing to take: the page says why", async () => {
    const answer = await fig.get("/packing/gathered/list.pdf");
    expect([answer.statusCode, headingOf(answer.body)]).toEqual([
      409,
      "Nothing on the shelf is free for any order now.",
    ]);
  });
});

describe("packing by form", () => {
  it("packs the suggestion with one tap and comes back to the order", async () => {
    const { orderId, lineId } = await enter("W-104", 8);
    const page = (await fig.get(`/packing/${orderId}`)).body;
    expect(textOf(page)).toContain("8 of lot K7Q");
    const answer = await packAsShown(orderId, lineId, [[lotId, "8"]]);
    expect([answer.statusCode, answer.headers.location]).toEqual([303, `/packing/${orderId}`]);
    expect(await heading(`/packing/${orderId}`)).toBe("W-104 is full: mark it as packed.");
  });

  it("acts once, however often the form is sent", async () => {
    const { orderId, lineId } = await enter("W-104", 8);
    const formToken = randomUUID();
    const sendings = await Promise.all(
      [1, 2, 3].map(() => packAsShown(orderId, lineId, [[lotId, "4"]], { formToken })),
    );
    expect(sendings.map((answer) => answer.statusCode)).toEqual([303, 303, 303]);
    expect(await onShelf(database, lotId)).toBe(8);
  });

  it("refuses more than is left on the line, beside what was typed, and changes nothing", async () => {
    const { orderId, lineId } = await enter("W-104", 8);
    const answer = await packAsShown(orderId, lineId, [[lotId, "9"]]);
    expect(answer.statusCode).toBe(422);
    expect(textOf(answer.body)).toContain("Only 8 pieces are left to pack on this line.");
    expect(answer.body).toContain('value="9"');
    expect(await onShelf(database, lotId)).toBe(12);
  });

  it.each(["", "0", "-3", "2.5", "a dozen", "100001", "9999999999"])(
    "answers %j pieces with a sentence",
    async (units) => {
      const { orderId, lineId } = await enter("W-104", 8);
      const answer = await packAsShown(orderId, lineId, [[lotId, units]]);
      expect(answer.statusCode).toBe(422);
      expect(answer.body).toMatch(/Fill this in\.|Give a whole number from 1 to 100\u202f000\./);
      expect(await onShelf(database, lotId)).toBe(12);
    },
  );

  it("answers a form that was tampered with by a sentence, never by a fault", async () => {
    const { orderId, lineId } = await enter("W-104", 8);
    const wrong = [
      { lot: "x", units: "1", last_move: "0" },
      { units: "1", last_move: "0" },
      { lot: String(lotId), units: ["1", "2"], last_move: "0" },
      { lot: String(lotId), units: "1" },
      { lot: "999999999", units: "1", last_move: "0" },
    ];
    for (const fields of wrong) {
      const answer = await fig.post(`/packing/${orderId}/lines/${lineId}/pieces`, fields, {
        from: "/packing",
      });
      expect(answer.statusCode).toBe(422);
    }
    expect(await onShelf(database, lotId)).toBe(12);
  });

  it("says who was quicker and shows the newer numbers when the pieces are gone", async () => {
    const [mine, other] = [await enter("W-104", 12), await enter("W-105", 12)];
    const seen = await lastMoveOn(`/packing/${mine.orderId}`);
    await packAsShown(other.orderId, other.lineId, [[lotId, "9"]]);
    const answer = await owner.post(
      `/packing/${mine.orderId}/lines/${mine.lineId}/pieces`,
      { lot: String(lotId), units: "12", last_move: seen },
      { from: "/packing" },
    );
    expect(answer.statusCode).toBe(409);
    expect(textOf(answer.body)).toContain("Only 3 of lot K7Q are left; Fig Underhill has just packed 9.");
    expect(textOf(answer.body)).toContain("3 of lot K7Q");
    expect(await onShelf(database, lotId)).toBe(3);
  });

  it("blames nobody for what was gone before the page was made", async () => {
    const [mine, other] = [await enter("W-104", 12), await enter("W-105", 12)];
    await packAsShown(other.orderId, other.lineId, [[lotId, "9"]]);
    const answer = await packAsShown(mine.orderId, mine.lineId, [[lotId, "12"]]);
    expect(answer.statusCode).toBe(422);
    expect(textOf(answer.body)).toContain("Only 3 of lot K7Q are left.");
  });

  it("says so when the order has left meanwhile", async () => {
    const { orderId, lineId } = await enter("W-104", 8);
    await database.sql`update orders set state = 'shipped', packed_at = now(), shipped_at = now() where id = ${orderId}`;
    const answer = await packAsShown(orderId, lineId, [[lotId, "8"]]);
    expect(answer.statusCode).toBe(409);
    expect(textOf(answer.body)).toContain("W-104 has left the workshop; its box cannot be changed any more.");
  });

  it("answers a tap with the main part of the page alone", async () => {
    const { orderId } = await enter("W-104", 8);
    const answer = await fig.get(`/packing/${orderId}`, { "hx-request": "true" });
    expect(answer.body).not.toContain("<html");
    expect(answer.body).toContain("<h1>");
  });
});

describe("whose pieces they are", () => {
  it("suggests only what earlier promises leave, and names them", async () => {
    await enter("W-103", 10, { shipBy: "2027-03-03" });
    const { orderId } = await enter("W-104", 8);
    const text = textOf((await fig.get(`/packing/${orderId}`)).body);
    expect(text).toContain("2 of lot K7Q Pack these 2");
    expect(text).toContain("6 pieces more on the shelf are promised to W-103, which leaves by Wed 3 Mar.");
  });

  it("lets the packer take them all the same, and then says who lacks them", async () => {
    const earlier = await enter("W-103", 10, { shipBy: "2027-03-03" });
    const { orderId, lineId } = await enter("W-104", 8);
    expect((await packAsShown(orderId, lineId, [[lotId, "8"]])).statusCode).toBe(303);
    // 4 of 12 remain for W-103, which wants 10.
    const text = textOf((await fig.get(`/packing/${orderId}`)).body);
    expect(text).toContain("W-103, which leaves by Wed 3 Mar, lacks 6.");
    expect(textOf((await fig.get(`/packing/${earlier.orderId}`)).body)).not.toContain("An earlier promise");
  });
});

describe("taking out and marking as packed by form", () => {
  it("takes pieces out and says what cannot be taken out", async () => {
    const { orderId, lineId } = await enter("W-104", 8);
    await packAsShown(orderId, lineId, [[lotId, "8"]]);
    const address = `/packing/${orderId}/lines/${lineId}/lots/${lotId}/unpacking`;
    const tooMany = await fig.post(address, { units: "9" }, { from: "/packing" });
    expect(tooMany.statusCode).toBe(422);
    expect(textOf(tooMany.body)).toContain("Only 8 of lot K7Q can be taken out.");
    expect(tooMany.body).toContain('value="9"');
    const wrong = await fig.post(address, { units: "some" }, { from: "/packing" });
    expect([wrong.statusCode, wrong.body.includes("Give a whole number")]).toEqual([422, true]);
    const formToken = randomUUID();
    for (const time of [1, 2]) {
      const answer = await fig.post(address, { units: "3" }, { from: "/packing", formToken });
      expect([time, answer.statusCode]).toEqual([time, 303]);
    }
    expect(await onShelf(database, lotId)).toBe(7);
  });

  it("marks a market's crate short only with the tick", async () => {
    const { orderId, lineId } = await enter("M-104", 20, { terms: "market" });
    await packAsShown(orderId, lineId, [[lotId, "12"]]);
    const address = `/packing/${orderId}/completion`;
    const without = await fig.post(address, {}, { from: "/packing" });
    expect(without.statusCode).toBe(422);
    expect(textOf(without.body)).toContain("8 pieces are still missing.");
    const withTick = await fig.post(address, { leaves_short: "yes" }, { from: "/packing" });
    expect(withTick.statusCode).toBe(303);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "packed", packed: "03-01T08:00" });
    expect(await heading(`/packing/${orderId}`)).toBe("M-104 is packed and leaves 8 short.");
    const again = await fig.post(address, { leaves_short: "yes" }, { from: "/packing" });
    expect(again.statusCode).toBe(409);
    expect(textOf(again.body)).toContain("M-104 is marked as packed already.");
  });
});

describe("who may see what", () => {
  it("shows a helper where it goes, but nothing private of the customer", async () => {
    const { orderId } = await enter("W-104", 8);
    const pages = [await fig.get("/packing"), await fig.get(`/packing/${orderId}`)];
    expect(pages.map((page) => page.statusCode)).toEqual([200, 200]);
    expect(pages[1]?.body).toContain("3 Wick Lane");
    for (const { body } of pages) {
      for (const secret of otterSecrets) expect(body).not.toContain(secret);
    }
  });

  it("sends strangers to sign in, and packs nothing for them", async () => {
    const { orderId, lineId } = await enter("W-104", 8);
    const stranger = application.stranger();
    const address = `/packing/${orderId}/lines/${lineId}/pieces`;
    for (const page of ["/packing", `/packing/${orderId}`])
      expect((await stranger.get(page)).headers.location).toContain("/sign-in");
    const answer = await stranger.post(address, { lot: String(lotId), units: "1", last_move: "0" });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, "/sign-in"]);
    expect(await onShelf(database, lotId)).toBe(12);
  });

  it("knows no order, line or lot that is not there", async () => {
    const { orderId, lineId } = await enter("W-104", 8);
    const other = await enter("W-105", 8);
    for (const path of ["/packing/999999", "/packing/x", "/packing/0", "/packing/99999999999"])
      expect((await fig.get(path)).statusCode).toBe(404);
    const fields = { lot: String(lotId), units: "1", last_move: "0" };
    for (const path of [
      `/packing/${orderId}/lines/${other.lineId}/pieces`,
      `/packing/${orderId}/lines/x/pieces`,
      `/packing/${orderId}/lines/${lineId}/lots/x/unpacking`,
      "/packing/999999/completion",
    ])
      expect((await fig.post(path, fields, { from: "/packing" })).statusCode).toBe(404);
  });

  it("shows what people typed as text", async () => {
    await database.sql`update customers set name = '<script>alert(1)</script>' where id = ${customerId}`;
    const { orderId } = await enter("W-104", 8);
    const body = (await fig.get(`/packing/${orderId}`)).body;
    expect(body).toContain("&lt;script>alert(1)");
    expect(body).not.toContain("<script>alert");
  });
});

function order(reference: string, units: number, given: object = {}) {
  return { customerId, reference, lines: [{ productId: cedar, units }], ...given };
}

async function enter(reference: string, units: number, given: object = {}) {
  const { orderId, lineIds } = await insertOrder(database.db, order(reference, units, given));
  return { orderId, lineId: firstOf(lineIds) };
}

/** Sends the form of a line as it stands on the order's page now. */
async function packAsShown(
  orderId: number,
  lineId: number,
  takes: readonly (readonly [lotId: number, units: string])[],
  options: { readonly formToken?: string } = {},
) {
  const from = `/packing/${orderId}`;
  return fig.post(
    `${from}/lines/${lineId}/pieces`,
    {
      lot: takes.map(([lot]) => String(lot)),
      units: takes.map(([, units]) => units),
      last_move: await lastMoveOn(from),
    },
    { from: "/packing", ...options },
  );
}

async function lastMoveOn(path: string): Promise<string> {
  return /name="last_move" value="(\d+)"/.exec((await fig.get(path)).body)?.[1] ?? "0";
}

async function heading(path: string): Promise<string> {
  return headingOf((await fig.get(path)).body);
}

function rowsOf(page: string): string[] {
  return (page.split("<tbody>")[1] ?? "").split("</tr>").slice(0, -1).map(textOf);
}
