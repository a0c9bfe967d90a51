import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
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
  type Packer,
} from "../packing/workroom.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let fig: Visitor;
let hands: Packer;
let heron: number;
let deliveryId: number;
let orderId: number;

beforeAll(async () => {
  ({ owner, fig } = await openWorkroom(application));
  hands = await newPacker(database, "Hands");
});

/** W-104 with twelve pieces has left, nobody said in what. */
beforeEach(async () => {
  await emptyWorkroom(database);
  await database.sql`truncate carriers, label_maker cascade`;
  heron = await insertCarrier(database.db, { trackingPattern: "https://heron.example/p/{number}" });
  const productId = await insertProduct(database.db, { name: "Cedar ball" });
  const lotId = await insertReadyLot(database.db, { productId, units: 12 });
  const customerId = await insertLamplitOtter(database.db);
  const order = await insertOrder(database.db, { customerId, lines: [{ productId, units: 12 }] });
  ({ orderId } = order);
  await hands.do(packPieces, { orderLineId: firstOf(order.lineIds), takes: [{ lotId, units: 12 }] });
  await hands.do(markPacked, { orderId, leavesShort: false });
  const left = await hands.do(shipOrder, { orderId, how: "parcel", parcels: [] });
  if (!left.ok) throw new Error("it should have left");
  ({ deliveryId } = left.value);
});

describe("the parcels of a delivery", () => {
  it("are several, each written down when it is known, with a link to where it is followed", async () => {
    await add(fig, { sentWith: `${heron}/overnight`, grams: "1 250" });
    await add(fig, { sentWith: `${heron}/`, grams: "800", tracking: "HP 4711/3" });
    const page = (await fig.get(`/delivery/${deliveryId}`)).body;
    const text = textOf(page);
    expect(text).toContain("Two parcels");
    expect(text).toContain("1. Heron Post, overnight 1 250 g none yet");
    expect(text).toContain("2 weighed parcels: 2 050 g together.");
    expect(page).toContain(
      '<a href="https://heron.example/p/HP%204711%2F3" rel="noreferrer noopener external">HP 4711/3</a>',
    );
    expect(text).toContain("Parcel 2 of 2 Heron Post, 800 g, HP 4711/3");
    expect(textOf((await owner.get(`/orders/${orderId}`)).body)).toContain("Heron Post: HP 4711/3");
    expect(textOf((await fig.get("/delivery")).body)).toContain(
      "By parcel, 2 parcels, Heron Post, Heron Post, HP 4711/3",
    );
  });

  it("show ounces beside grams where the labels are held to the rules of the United States", async () => {
    await add(fig, { grams: "1250" });
    await database.sql`insert into label_maker (market, maker_name, maker_place, contact, adults_only)
      values ('us', 'Tidepool & Thimble', 'Lower Mothbury', '', false)`;
    // An avoirdupois ounce is 28.349 523 125 g (NIST Handbook 44, Appendix C).
    expect(textOf((await fig.get(`/delivery/${deliveryId}`)).body)).toContain("1 250 g (44.09 oz)");
  });

  it("are changed when their number comes, and taken off when they were a mistake; the history tells", async () => {
    await add(fig, { sentWith: `${heron}/overnight`, grams: "900" });
    const [parcel] = await parcels();
    const path = `/delivery/${deliveryId}/parcels/${parcel?.id}`;
    expect(headingOf((await fig.get(path)).body)).toBe(
      "A parcel of W-104 to The Lamplit Otter: Heron Post, overnight, 900 g.",
    );
    const changed = await fig.post(
      path,
      { sentWith: `${heron}/overnight`, grams: "900", tracking: "HP 1" },
      { from: path },
    );
    expect([changed.statusCode, changed.headers.location]).toEqual([303, `/delivery/${deliveryId}#parcels`]);
    expect(await parcels()).toMatchObject([{ grams: 900, tracking: "HP 1" }]);
    expect((await fig.post(`${path}/removal`, {}, { from: path })).statusCode).toBe(303);
    expect(await parcels()).toEqual([]);
    expect((await fig.post(`${path}/removal`, {}, { from: "/delivery" })).statusCode).toBe(404);
    const history = await database.sql`select what, before, after from changes
      where subject = 'order' and subject_id = ${orderId} and what like 'parcel %' order by id`;
    expect(history).toMatchObject([
      { what: "parcel added", after: { grams: 900, carrierId: heron, service: "overnight" } },
      { what: "parcel changed", before: { tracking: "" }, after: { tracking: "HP 1" } },
      { what: "parcel taken off", before: { tracking: "HP 1" } },
    ]);
    const told = textOf((await owner.get(`/orders/${orderId}`)).body);
    expect(told).toContain("parcel added: Heron Post, overnight, 900 g");
    expect(told).toContain("parcel changed: number none → HP 1");
    expect(told).toContain("parcel taken off: Heron Post, overnight, 900 g, HP 1");
  });

  it("are added once, however often the form is sent", async () => {
    const formToken = randomUUID();
    const sendings = await Promise.all([1, 2, 3].map(() => add(fig, { grams: "700" }, formToken)));
    expect(sendings.map((answer) => answer.statusCode)).toEqual([303, 303, 303]);
    expect(await parcels()).toHaveLength(1);
  });

  it("answer wrong input beside its field and keep what was typed", async () => {
    const nothing = await add(fig, {});
    expect([nothing.statusCode, textOf(nothing.body)]).toEqual([
      422,
      expect.stringContaining("Say something of it"),
    ]);
    const wrong = await add(fig, { sentWith: `${heron}/by owl`, grams: "700", tracking: "HP 9" });
    expect(wrong.statusCode).toBe(409);
    expect(textOf(wrong.body)).toContain("That carrier or service is not in use any more");
    expect(wrong.body).toContain('value="HP 9"');
    expect(await parcels()).toEqual([]);
  });

  it("keep a carrier that was put away since, which no new parcel gets", async () => {
    await add(fig, { sentWith: `${heron}/slow`, grams: "700" });
    await owner.post(`/setup/carriers/${heron}/retirement`, {}, { from: `/setup/carriers/${heron}` });
    const [parcel] = await parcels();
    const path = `/delivery/${deliveryId}/parcels/${parcel?.id}`;
    const kept = await fig.post(path, { sentWith: `${heron}/slow`, grams: "750" }, { from: path });
    expect(kept.statusCode).toBe(303);
    expect((await add(fig, { sentWith: `${heron}/slow` })).statusCode).toBe(409);
    expect(await parcels()).toMatchObject([{ grams: 750, service: "slow" }]);
  });
});

describe("what a parcel cost", () => {
  it("is the owner's to know: a helper neither sees it nor changes it", async () => {
    await add(owner, { sentWith: `${heron}/slow`, cost: "6.66" });
    const [parcel] = await parcels();
    const path = `/delivery/${deliveryId}/parcels/${parcel?.id}`;
    expect(textOf((await owner.get(`/delivery/${deliveryId}`)).body)).toContain("€6.66");
    for (const url of [`/delivery/${deliveryId}`, path, "/delivery", `/delivery/${deliveryId}/parcels/new`]) {
      const { body } = await fig.get(url);
      expect(body).not.toMatch(/6\.66|name="cost"/);
    }
    const sent = await fig.post(
      path,
      { sentWith: `${heron}/slow`, tracking: "HP 2", cost: "0.01" },
      { from: path },
    );
    expect(sent.statusCode).toBe(303);
    expect(await parcels()).toMatchObject([{ cost_minor: "666", tracking: "HP 2" }]);
  });

  it("is read in the currency of the workshop, and blank means that it is not known", async () => {
    const wrong = await add(owner, { grams: "5", cost: "6.6666" });
    expect(textOf(wrong.body)).toContain("Amounts in EUR have at most 2 decimals");
    await add(owner, { grams: "5", cost: "" });
    expect(await parcels()).toMatchObject([{ cost_minor: null }]);
    await add(owner, { grams: "5", cost: "0.40" });
    await expect(database.sql`update workshop set currency = 'USD'`).rejects.toThrow(
      "amounts in the workshop's currency",
    );
  });
});

describe("the shop's list of carriers", () => {
  it("takes one with its services, one a line, and where its parcels are followed", async () => {
    const added = await owner.post("/setup/carriers", {
      name: "Badger & Barrow",
      services: " carton \n\npallet\ncarton",
      tracking: "https://badger.example/{number}",
    });
    expect([added.statusCode, added.headers.location]).toEqual([303, "/setup/carriers"]);
    const text = textOf((await owner.get("/setup/carriers")).body);
    expect(text).toContain("Your parcels go with 2 carriers.");
    expect(text).toContain("carton and pallet by a link");
  });

  it("takes no address that is not a page asked for over TLS, nor two of one name", async () => {
    const bad = await owner.post("/setup/carriers", {
      name: "HERON post",
      services: "",
      tracking: "javascript:{number}",
    });
    expect(bad.statusCode).toBe(422);
    expect(textOf(bad.body)).toContain("Give an address that begins with https://");
    const twice = await owner.post("/setup/carriers", { name: "HERON post", services: "", tracking: "" });
    expect(textOf(twice.body)).toContain("Another carrier has this name");
    await expect(
      database.sql`insert into carriers (name, tracking_pattern) values ('X', 'http://x.example/{number}')`,
    ).rejects.toThrow("carriers_tracking_form");
  });

  it("is the owner's", async () => {
    expect((await fig.get("/setup/carriers")).statusCode).toBe(403);
  });
});

function add(who: Visitor, fields: Readonly<Record<string, string>>, formToken?: string) {
  const from = `/delivery/${deliveryId}/parcels/new`;
  return who.post(`/delivery/${deliveryId}/parcels`, fields, { from, ...(formToken ? { formToken } : {}) });
}

async function parcels() {
  return [...(await database.sql`select * from parcels where delivery_id = ${deliveryId} order by id`)];
}
