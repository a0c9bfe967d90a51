import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { markPacked } from "../../server/packing/markPacked.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertContact, insertCustomer, insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { readPdf } from "../labels/readPdf.ts";
import {
  emptyWorkroom,
  firstOf,
  newPacker,
  openWorkroom,
  orderNow,
  type Packer,
} from "../packing/workroom.ts";

const TODAY = "2027-03-01";
const application = useApplication();
const { database } = application;
let owner: Visitor;
let fig: Visitor;
let hands: Packer;
let cedar: number;
let lotId: number;
let otter: number;
let museum: number;
let thimble: number;

beforeAll(async () => {
  ({ owner, fig } = await openWorkroom(application));
  hands = await newPacker(database, "Hands");
});

/** Three customers of the round east of the workshop, the farthest first by number. */
beforeEach(async () => {
  await emptyWorkroom(database);
  await database.sql`truncate round_places, round_minutes, round_driving`;
  cedar = await insertProduct(database.db, { name: "Cedar ball" });
  lotId = await insertReadyLot(database.db, { productId: cedar, units: 200 });
  const round = { takesBy: "local-round" } as const;
  otter = await insertCustomer(database.db, {
    ...round,
    name: "The Lamplit Otter",
    address: "1 Wobbly Quay",
  });
  museum = await insertCustomer(database.db, {
    ...round,
    name: "Teaspoon Museum",
    address: "2 Saucer Place",
  });
  thimble = await insertCustomer(database.db, { ...round, name: "Giant's Thimble", address: "100 Close" });
  await insertContact(database.db, { customerId: otter, name: "Ottoline", phone: "555 0104" });
  await place("workshop", 0);
  await place(`customers/${otter}`, 0.03);
  await place(`customers/${museum}`, 0.01);
  await place(`customers/${thimble}`, 0.02);
});

describe("the round of a day", () => {
  it("goes to whoever has something packed, in the shortest order, and says when it is where", async () => {
    await packed("W-1", otter);
    await packed("W-2", museum);
    await packed("W-3", thimble);
    await packed("W-4", await insertCustomer(database.db, { name: "By post", takesBy: "parcel" }));
    const { body } = await fig.get("/delivery/round");
    // A hundredth of a degree is 1.112 km, 1.446 km by road: begun, 3 minutes at 30 km/h; twice that 6, thrice 9.
    expect(headingOf(body)).toBe("Three stops to go on the local round today, back around 09:33.");
    const text = textOf(body);
    expect(text).toContain("The shortest order of all: 18 min of driving, 5 min at each door.");
    expect(text).toMatch(/1\. \S.*, around 09:0\d.*2\. Giant's Thimble, around 09:1\d.*3\. /);
    expect(text).not.toContain("By post");
  });

  it("follows the minutes that were entered where they differ from the distance", async () => {
    await packed("W-1", otter);
    await place("workshop", 0, [[otter, "45"]]);
    expect(textOf((await fig.get("/delivery/round")).body)).toContain("1 h 30 min of driving");
    await place(`customers/${otter}`, 0.03, [["0", ""]]);
    expect(textOf((await fig.get("/delivery/round")).body)).toContain("18 min of driving");
  });

  it("puts a stop of which nobody said where it is last and says so", async () => {
    await packed("W-1", await insertCustomer(database.db, { name: "Nowhere yet", takesBy: "local-round" }));
    await packed("W-2", otter);
    const text = textOf((await fig.get("/delivery/round")).body);
    expect(text).toContain("1 stop without coordinates or minutes stands last, without a time.");
    expect(text).toContain("1. The Lamplit Otter, around 09:09");
    expect(text).toContain("2. Nowhere yet");
    expect(await sheetWords(owner)).toContain("Back");
  });

  it("is not said to be back at some time where nobody knows how far any of its stops is", async () => {
    await packed("W-1", await insertCustomer(database.db, { name: "Nowhere yet", takesBy: "local-round" }));
    expect(textOf((await fig.get("/delivery/round")).body)).not.toContain("back around");
    const words = await sheetWords(owner);
    expect(words).toContain("1. Nowhere yet");
    expect(words).not.toContain("Back");
  });

  it("says that more than ten stops are in a good order only", async () => {
    for (let stop = 0; stop < 11; stop += 1) {
      const customerId = await insertCustomer(database.db, { name: `Stop ${stop}`, takesBy: "local-round" });
      await place(`customers/${customerId}`, (10 + stop) / 100);
      await packed(`W-${stop}`, customerId);
    }
    expect(textOf((await fig.get("/delivery/round")).body)).toContain("found by approximation");
  });

  it("keeps the telephone number from a helper, on the page and on the sheet, and gives it to the owner", async () => {
    await packed("W-1", otter);
    expect((await fig.get("/delivery/round")).body).not.toContain("555 0104");
    expect((await owner.get("/delivery/round")).body).toContain('<a href="tel:5550104">555 0104</a>');
    expect((await sheetWords(owner)).join(" ")).toContain("555 0104");
    expect((await sheetWords(fig)).join(" ")).not.toContain("555 0104");
  });
});

describe("at the door", () => {
  it("a helper lets all of it leave, ticks off who took it and when, and takes that back", async () => {
    const orderId = await packed("W-1", otter);
    const other = await packed("W-2", otter);
    await leave(orderId, other);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "shipped" });
    application.clock.set("2027-03-01T09:12:00Z");
    const nameless = await act("handing-over", { delivery: await deliveries(), receivedBy: " " });
    expect([nameless.statusCode, textOf(nameless.body)]).toEqual([
      422,
      expect.stringContaining("Fill this in."),
    ]);
    const done = await act("handing-over", { delivery: await deliveries(), receivedBy: "Ottoline" });
    expect([done.statusCode, done.headers.location]).toEqual([303, `/delivery/round?on=${TODAY}`]);
    const { body } = await fig.get("/delivery/round");
    expect(headingOf(body)).toBe("The round today is done: one stop.");
    expect(textOf(body)).toContain("W-2: 12 pieces handed over to Ottoline at 09:12");
    expect(await orderNow(database, orderId)).toMatchObject({ state: "delivered", delivered: "03-01T09:12" });

    expect((await act("taking-back", { delivery: await deliveries() })).statusCode).toBe(303);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "shipped", delivered: null });
    const again = await act("taking-back", { delivery: await deliveries() });
    expect([again.statusCode, textOf(again.body)]).toEqual([
      409,
      expect.stringContaining("This delivery of W-1 is not marked as delivered."),
    ]);
    const history = await database.sql`select what, before, after from changes
      where subject = 'order' and subject_id = ${orderId} and what in ('delivered', 'arrival taken back') order by id`;
    expect(history).toMatchObject([
      { what: "delivered", after: { receivedBy: "Ottoline" } },
      {
        what: "arrival taken back",
        before: { receivedBy: "Ottoline", state: "delivered" },
        after: { state: "shipped" },
      },
    ]);
  });

  it("lets all of it leave or nothing, and once however often the form is sent", async () => {
    const orderId = await packed("W-1", otter);
    const gone = await packed("W-2", museum);
    await leave(gone);
    const clash = await act("departure", { order: [String(orderId), String(gone)] });
    expect([clash.statusCode, textOf(clash.body)]).toEqual([
      409,
      expect.stringContaining("W-2 has left already."),
    ]);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "packed" });
    const formToken = randomUUID();
    const sendings = [1, 2, 3].map(() => act("departure", { order: [String(orderId)] }, formToken));
    expect((await Promise.all(sendings)).map(({ statusCode }) => statusCode)).toEqual([303, 303, 303]);
    expect(await deliveries()).toHaveLength(2);
  });

  it("shows the round of a day that has gone by as it was", async () => {
    await leave(await packed("W-1", otter));
    application.clock.set("2027-03-03T08:00:00Z");
    await packed("W-2", museum);
    const text = textOf((await fig.get(`/delivery/round?on=${TODAY}`)).body);
    expect(text).toContain("One stop to go on the local round on Monday 1 March");
    expect(text).not.toContain("W-2");
    application.clock.set("2027-03-01T08:00:00Z");
  });
});

describe("where the stops are", () => {
  it("takes both numbers of a place or neither, within the earth", async () => {
    const from = `/setup/round/customers/${otter}`;
    const half = await owner.post(from, { latitude: "51.5", longitude: "" }, { from });
    expect([half.statusCode, textOf(half.body)]).toEqual([
      422,
      expect.stringContaining("needs both numbers"),
    ]);
    const off = await owner.post(from, { latitude: "91", longitude: "0" }, { from });
    expect(textOf(off.body)).toContain("Give a number from -90 to 90 with at most 6 decimals.");
    expect((await fig.get(from)).statusCode).toBe(403);
    expect((await owner.get("/setup/round/customers/999999")).statusCode).toBe(404);
  });
});

/** Puts a place on the equator, so many degrees east of the workshop, with minutes to others. */
async function place(
  where: string,
  east: number,
  minutes: readonly (readonly [number | string, string])[] = [],
) {
  const from = `/setup/round/${where}`;
  const fields = {
    ...{ latitude: "0", longitude: String(east) },
    to: minutes.map(([to]) => String(to)),
    minutes: minutes.map(([, typed]) => typed),
  };
  expect((await owner.post(from, fields, { from: "/setup/round" })).statusCode).toBe(303);
}

/** What the sheet of today's round says, as a visitor gets it. */
async function sheetWords(visitor: Visitor): Promise<readonly string[]> {
  const pages = await readPdf((await visitor.get(`/delivery/round/sheet.pdf?on=${TODAY}`)).rawPayload);
  return pages.flatMap(({ words }) => words.map((each) => each.words));
}

async function packed(reference: string, customerId: number): Promise<number> {
  const lines = [{ productId: cedar, units: 12 }];
  const { orderId, lineIds } = await insertOrder(database.db, { customerId, reference, lines });
  await hands.do(packPieces, { orderLineId: firstOf(lineIds), takes: [{ lotId, units: 12 }] });
  await hands.do(markPacked, { orderId, leavesShort: false });
  return orderId;
}

function act(what: string, fields: Readonly<Record<string, string | readonly string[]>>, formToken?: string) {
  const options = { from: "/delivery", ...(formToken ? { formToken } : {}) };
  return fig.post(`/delivery/round/${what}`, { on: TODAY, ...fields }, options);
}

async function leave(...orderIds: readonly number[]): Promise<void> {
  expect((await act("departure", { order: orderIds.map(String) })).statusCode).toBe(303);
}

async function deliveries(): Promise<string[]> {
  return (await database.sql<{ id: number }[]>`select id from deliveries order by id`).map(({ id }) =>
    String(id),
  );
}
