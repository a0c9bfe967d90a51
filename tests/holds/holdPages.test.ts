import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { emptyWorkroom, firstOf, insertLamplitOtter, openWorkroom } from "../packing/workroom.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let fig: Visitor;
let lotId: number;
let orderId: number;
let lineId: number;

beforeAll(async () => {
  ({ owner, fig } = await openWorkroom(application));
});

/** 12 of lot K7Q on the shelf, and W-104 that wants 8 of them. */
beforeEach(async () => {
  await emptyWorkroom(database);
  const productId = await insertProduct(database.db, { name: "Cedar ball" });
  const customerId = await insertLamplitOtter(database.db);
  lotId = await insertReadyLot(database.db, { productId, units: 12 });
  const order = await insertOrder(database.db, {
    ...{ customerId, reference: "W-104" },
    lines: [{ productId, units: 8 }],
  });
  orderId = order.orderId;
  lineId = firstOf(order.lineIds);
});

describe("a lot that looks wrong", () => {
  it("is put on hold by anybody, and says so on Shelf, Packing, Roll-up and Week, with who and when", async () => {
    const answer = await fig.post(
      `/shelf/${lotId}/hold`,
      { reason: "smells burnt" },
      { from: `/shelf/${lotId}/hold` },
    );
    expect([answer.statusCode, answer.headers.location]).toEqual([303, `/shelf/${lotId}`]);
    for (const address of ["/shelf", `/shelf/${lotId}`, "/packing", `/packing/${orderId}`, "/week"])
      expect(textOf((await fig.get(address)).body), address).toContain(
        "on hold smells burnt; Fig Underhill, Mon 1 Mar 08:00",
      );
    expect(textOf((await owner.get("/roll-up")).body)).toContain("on hold smells burnt");
    expect(headingOf((await fig.get("/shelf")).body)).toBe(
      "12 pieces on the shelf in 1 lot; 12 not to be packed.",
    );
  });

  it("needs a reason, and the owner alone lets it go, with a word why", async () => {
    const none = await fig.post(`/shelf/${lotId}/hold`, { reason: " " }, { from: `/shelf/${lotId}/hold` });
    expect([none.statusCode, none.body.includes("Fill this in.")]).toEqual([422, true]);
    await fig.post(`/shelf/${lotId}/hold`, { reason: "smells burnt" }, { from: `/shelf/${lotId}/hold` });
    const page = `/shelf/${lotId}/hold`;
    const forbidden = await fig.post(`${page}/release`, { note: "fine" }, { from: page });
    expect(forbidden.statusCode).toBe(403);
    const blank = await owner.post(`${page}/release`, { note: "" }, { from: page });
    expect(blank.statusCode).toBe(422);
    const released = await owner.post(`${page}/release`, { note: "it was the tray" }, { from: page });
    expect(released.statusCode).toBe(303);
    expect(textOf((await fig.get(page)).body)).toContain("by Wren Oddfellow: it was the tray");
    expect(textOf((await fig.get("/packing")).body)).not.toContain("Not to be packed");
  });

  it("answers a packer whose page still showed it with the reason, and changes nothing", async () => {
    const form = { lot: String(lotId), units: "8", last_move: "0" };
    await fig.post(`/shelf/${lotId}/hold`, { reason: "smells burnt" }, { from: `/shelf/${lotId}/hold` });
    const answer = await owner.post(`/packing/${orderId}/lines/${lineId}/pieces`, form, { from: "/packing" });
    expect(answer.statusCode).toBe(409);
    expect(textOf(answer.body)).toContain("Lot K7Q is on hold: smells burnt.");
  });
});

describe("keeping pieces", () => {
  it("is the owner's, shown at the lot, and undone with one tap", async () => {
    const page = `/shelf/${lotId}/kept`;
    expect((await fig.get(page)).statusCode).toBe(403);
    const kept = await owner.post(page, { orderLineId: String(lineId), units: "5" }, { from: page });
    expect(kept.statusCode).toBe(303);
    expect(headingOf((await owner.get(page)).body)).toBe("5 of the 12 pieces of lot K7Q are kept.");
    expect(textOf((await fig.get(`/shelf/${lotId}`)).body)).toContain("5 pieces kept for it");
    const undone = await owner.post(`${page}/${lineId}/undo`, {}, { from: page });
    expect(undone.statusCode).toBe(303);
    expect(headingOf((await owner.get(page)).body)).toBe("Nothing of lot K7Q is kept for an order.");
  });

  it("refuses too many beside what was typed", async () => {
    const page = `/shelf/${lotId}/kept`;
    const answer = await owner.post(page, { orderLineId: String(lineId), units: "9" }, { from: page });
    expect(answer.statusCode).toBe(409);
    expect(textOf(answer.body)).toContain("W-104 wants only 8 pieces more of this.");
    expect(answer.body).toContain('value="9"');
  });
});
