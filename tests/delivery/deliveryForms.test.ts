import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { recordDelivered } from "../../server/delivery/recordDelivered.ts";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
import type { OrderTerms } from "../../server/orders/order.ts";
import { markPacked } from "../../server/packing/markPacked.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertCarrier, insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import {
  emptyWorkroom,
  firstOf,
  insertLamplitOtter,
  newPacker,
  openWorkroom,
  orderNow,
  otterSecrets,
  type Packer,
} from "../packing/workroom.ts";

const PARCEL = { how: "parcel", parcels: [] } as const;
const application = useApplication();
const { database } = application;
let fig: Visitor;
let hands: Packer;
let cedar: number;
let customerId: number;
let lotId: number;
let heron: number;

beforeAll(async () => {
  ({ fig } = await openWorkroom(application));
  hands = await newPacker(database, "Hands");
  heron = await insertCarrier(database.db);
});

beforeEach(async () => {
  await emptyWorkroom(database);
  cedar = await insertProduct(database.db, { name: "Cedar ball" });
  customerId = await insertLamplitOtter(database.db);
  lotId = await insertReadyLot(database.db, { productId: cedar, units: 90 });
});

describe("the delivery list", () => {
  it("answers in a sentence first: what leaves, and what is under way", async () => {
    await packedOrder("W-104", { shipBy: "2027-03-01" });
    await packedOrder("W-105", { shipBy: "2027-03-01" });
    await packedOrder("W-106", { shipBy: "2027-03-04" });
    expect(await heading("/delivery")).toBe("W-104 and W-105 leave today. Nothing is under way.");
  });

  it("says what should have left already", async () => {
    await packedOrder("W-104", { shipBy: "2027-02-26" });
    const text = textOf((await fig.get("/delivery")).body);
    expect(text).toContain("W-104 should have left on Fri 26 Feb.");
    expect(text).toContain("3 days late");
  });

  it("offers the packed pieces of an order that takes part deliveries, and of no other that is not whole", async () => {
    await partlyPacked("W-104", "as-ready");
    await partlyPacked("W-105", "complete");
    await partlyPacked("M-106", "market");
    const text = textOf((await fig.get("/delivery")).body);
    expect(text).toContain("5 pieces, more to come");
    expect(text).not.toMatch(/W-105|M-106/);
  });

  it("puts the promise and the day it left side by side", async () => {
    const late = await packedOrder("W-104", { shipBy: "2027-02-26" });
    await hands.do(shipOrder, { orderId: late, ...PARCEL });
    const prompt = await packedOrder("W-105", { shipBy: "2027-03-01" });
    await hands.do(shipOrder, { orderId: prompt, ...PARCEL });
    const text = textOf((await fig.get("/delivery")).body);
    expect(text).toContain("Fri 26 Feb Mon 1 Mar 3 days late");
    expect(text).toContain("Mon 1 Mar Mon 1 Mar on time");
    expect(text).toContain("Nothing stands packed; two deliveries are under way.");
  });

  it("shows the hundred longest away where nobody ticks off what has arrived, and counts them all", async () => {
    const { orderId } = await insertOrder(database.db, {
      customerId,
      lines: [{ productId: cedar, units: 1 }],
    });
    await database.sql`with gone as (
        insert into deliveries (order_id, how, state, shipped_at)
        select ${orderId}, 'parcel', 'shipped', '2027-03-01T07:00:00Z'::timestamptz - n * interval '1 day'
        from generate_series(1, 101) n returning id, shipped_at)
      insert into parcels (delivery_id, tracking)
      select id, 'T' || extract(day from '2027-03-01T07:00:00Z'::timestamptz - shipped_at) || '.' from gone`;
    const { body } = await fig.get("/delivery");
    expect(headingOf(body)).toContain("101 deliveries are under way.");
    expect([body.includes("T101."), body.includes("T2."), body.includes("T1.")]).toEqual([true, true, false]);
    expect(textOf(body)).toContain("These are the 100 longest away.");
  });

  it("keeps an arrival for two weeks", async () => {
    for (const [reference, arrivedAt] of [
      ["W-104", "2027-02-15T07:59:59Z"],
      ["W-105", "2027-02-15T08:00:00Z"],
    ] as const) {
      const shipped = await hands.do(shipOrder, { orderId: await packedOrder(reference), ...PARCEL });
      if (!shipped.ok) throw new Error("it did not leave");
      await hands.do(recordDelivered, shipped.value, new Date(arrivedAt));
    }
    const text = textOf((await fig.get("/delivery")).body);
    expect(text).toContain("Mon 15 Feb 08:00");
    expect(text).not.toContain("W-104");
  });
});

describe("sending an order off by form", () => {
  it("leaves as the form says and leads to its packing slip", async () => {
    const orderId = await packedOrder("W-104");
    const page = (await fig.get(`/delivery/orders/${orderId}`)).body;
    expect(headingOf(page)).toBe("All 12 pieces of W-104 can leave.");
    expect(page).toMatch(/<option value="parcel" selected/);
    const answer = await send(orderId, byHeron());
    expect(answer.statusCode).toBe(303);
    expect(answer.headers.location).toMatch(/^\/delivery\/\d+$/);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "shipped", shipped: "03-01T08:00" });
    expect(await deliveries()).toEqual([{ how: "parcel" }]);
    expect(await parcels()).toEqual([heronParcel()]);
  });

  it("takes it without a word of parcels", async () => {
    const orderId = await packedOrder("W-104");
    const answer = await send(orderId, { how: "collected", sentWith: "", grams: "", tracking: "" });
    expect(answer.statusCode).toBe(303);
    expect(await deliveries()).toEqual([{ how: "collected" }]);
    expect(await parcels()).toEqual([]);
  });

  it("sends it off once, however often the form is sent", async () => {
    const orderId = await packedOrder("W-104");
    const formToken = randomUUID();
    const sendings = await Promise.all([1, 2, 3].map(() => send(orderId, byHeron(), formToken)));
    expect(sendings.map((answer) => answer.statusCode)).toEqual([303, 303, 303]);
    expect(new Set(sendings.map((answer) => answer.headers.location)).size).toBe(1);
    expect(await deliveries()).toHaveLength(1);
  });

  it("answers wrong input beside its field and keeps what was typed", async () => {
    const orderId = await packedOrder("W-104");
    const answer = await send(orderId, {
      ...{ how: "by owl", sentWith: "an owl", grams: "1.5", tracking: "HP 4711" },
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("Choose how it leaves.");
    expect(answer.body).toMatch(/id="parcels\.0\.sentWith-mistake">Choose one from the list\./);
    expect(answer.body).toMatch(/id="parcels\.0\.grams-mistake">Give a whole number from 1 to 1.000.000\./);
    expect(answer.body).toContain('value="HP 4711"');
    expect(await orderNow(database, orderId)).toMatchObject({ state: "packed" });
  });

  it("answers a clash with the newer state and a sentence", async () => {
    const orderId = await packedOrder("W-104");
    await hands.do(shipOrder, { orderId, ...PARCEL });
    const answer = await send(orderId, byHeron());
    expect(answer.statusCode).toBe(409);
    expect(headingOf(answer.body)).toBe("W-104 has left already.");
    const unfinished = await partlyPacked("W-105", "complete");
    const refused = await send(unfinished, byHeron());
    expect(refused.statusCode).toBe(409);
    expect(textOf(refused.body)).toContain("W-105 leaves in one delivery only");
    expect(await deliveries()).toHaveLength(1);
  });

  it("says how many follow, or stay away", async () => {
    const part = await partlyPacked("W-104", "as-ready");
    expect(await heading(`/delivery/orders/${part}`)).toBe("5 pieces of W-104 can leave now; 7 will follow.");
    const crate = await partlyPacked("M-105", "market");
    await hands.do(markPacked, { orderId: crate, leavesShort: true });
    expect(await heading(`/delivery/orders/${crate}`)).toBe("M-105 leaves with 5 pieces, 7 short.");
  });
});

describe("the packing slip", () => {
  it("names the shop, the customer, the lots and the pieces", async () => {
    const orderId = await packedOrder("W-104");
    const path = (await send(orderId, byHeron())).headers.location ?? "";
    const page = (await fig.get(path)).body;
    expect(headingOf(page)).toBe("W-104 left on Monday 1 March and is under way.");
    const text = textOf(page);
    for (const said of ["Packing slip", "Tidepool & Thimble", "The Lamplit Otter", "3 Wick Lane", "K7Q"])
      expect(text.replaceAll("&amp;", "&")).toContain(said);
    expect(text).toContain("Pieces in this delivery 12");
    expect(text).toContain("With this delivery the order is complete.");
  });

  it("says what is still to come of part deliveries, each slip as it was on its day", async () => {
    const orderId = await partlyPacked("W-104", "as-ready");
    const early = (await send(orderId, byHeron())).headers.location ?? "";
    await pack(orderId, 7);
    const late = (await send(orderId, byHeron())).headers.location ?? "";
    expect(textOf((await fig.get(early)).body)).toContain("Still to come, 7 pieces: 7 Cedar ball.");
    const last = textOf((await fig.get(late)).body);
    expect(last).toContain("no. 2 of this order");
    expect(last).toContain("With this delivery the order is complete.");
  });

  it("says what a market's crate left without", async () => {
    const crate = await partlyPacked("M-105", "market");
    await hands.do(markPacked, { orderId: crate, leavesShort: true });
    const path = (await send(crate, { how: "market-crate" })).headers.location ?? "";
    expect(textOf((await fig.get(path)).body)).toContain("Left without 7 pieces: 7 Cedar ball.");
  });
});

describe("ticking a delivery off by form", () => {
  it("does it once and shows the newer state to who comes later", async () => {
    const orderId = await packedOrder("W-104");
    const path = (await send(orderId, byHeron())).headers.location ?? "";
    const formToken = randomUUID();
    const tick = (token?: string) =>
      fig.post(`${path}/arrival`, {}, { from: "/delivery", ...(token ? { formToken: token } : {}) });
    for (const time of [1, 2]) {
      const answer = await tick(formToken);
      expect([time, answer.statusCode, answer.headers.location]).toEqual([time, 303, "/delivery"]);
    }
    expect(await orderNow(database, orderId)).toMatchObject({ state: "delivered" });
    const late = await tick();
    expect(late.statusCode).toBe(409);
    expect(textOf(late.body)).toContain("This delivery of W-104 is marked as delivered already.");
  });
});

describe("who may see what", () => {
  it("shows a helper where it goes, but nothing private of the customer", async () => {
    const waiting = await packedOrder("W-104");
    const gone = await packedOrder("W-105");
    const slip = (await send(gone, byHeron())).headers.location ?? "";
    for (const path of ["/delivery", `/delivery/orders/${waiting}`, slip]) {
      const page = await fig.get(path);
      expect(page.statusCode).toBe(200);
      for (const secret of otterSecrets) expect(page.body).not.toContain(secret);
    }
  });

  it("sends strangers to sign in, and sends nothing off for them", async () => {
    const orderId = await packedOrder("W-104");
    const stranger = application.stranger();
    for (const path of ["/delivery", `/delivery/orders/${orderId}`, "/delivery/1"])
      expect((await stranger.get(path)).headers.location).toContain("/sign-in");
    const answer = await stranger.post(`/delivery/orders/${orderId}/shipment`, byHeron());
    expect([answer.statusCode, answer.headers.location]).toEqual([303, "/sign-in"]);
    expect(await deliveries()).toHaveLength(0);
  });

  it("knows no order or delivery that is not there", async () => {
    for (const path of ["/delivery/999999", "/delivery/x", "/delivery/orders/999999", "/delivery/orders/0"])
      expect((await fig.get(path)).statusCode).toBe(404);
    for (const path of [
      "/delivery/999999/arrival",
      "/delivery/x/arrival",
      "/delivery/orders/999999/shipment",
    ])
      expect((await fig.post(path, byHeron(), { from: "/delivery" })).statusCode).toBe(404);
  });
});

async function enter(reference: string, given: object): Promise<number> {
  const order = { customerId, reference, lines: [{ productId: cedar, units: 12 }], ...given };
  return (await insertOrder(database.db, order)).orderId;
}

async function pack(orderId: number, units: number): Promise<void> {
  const lines = await database.sql<{ id: number }[]>`select id from order_lines where order_id = ${orderId}`;
  const orderLineId = firstOf(lines.map((line) => line.id));
  expect((await hands.do(packPieces, { orderLineId, takes: [{ lotId, units }] })).ok).toBe(true);
}

/** Twelve pieces, all packed and marked. */
async function packedOrder(reference: string, given: object = {}): Promise<number> {
  const orderId = await enter(reference, given);
  await pack(orderId, 12);
  expect((await hands.do(markPacked, { orderId, leavesShort: false })).ok).toBe(true);
  return orderId;
}

/** Five of twelve pieces in the box. */
async function partlyPacked(reference: string, terms: OrderTerms): Promise<number> {
  const orderId = await enter(reference, { terms });
  await pack(orderId, 5);
  return orderId;
}

function send(orderId: number, fields: Readonly<Record<string, string>>, formToken?: string) {
  const options = { from: "/delivery", ...(formToken ? { formToken } : {}) };
  return fig.post(`/delivery/orders/${orderId}/shipment`, fields, options);
}

async function deliveries() {
  return [...(await database.sql`select how from deliveries order by id`)];
}

async function parcels() {
  return [...(await database.sql`select carrier_id, service, grams, tracking from parcels order by id`)];
}

/** The form of an order that leaves in one parcel of 1 250 g. */
function byHeron() {
  return { how: "parcel", sentWith: `${heron}/overnight`, grams: "1 250", tracking: "HP 4711" };
}

function heronParcel() {
  return { carrier_id: heron, service: "overnight", grams: 1250, tracking: "HP 4711" };
}

async function heading(path: string): Promise<string> {
  return headingOf((await fig.get(path)).body);
}
