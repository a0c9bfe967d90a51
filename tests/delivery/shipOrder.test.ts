import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { recordDelivered } from "../../server/delivery/recordDelivered.ts";
import { type DeliveryRefusal, deliveryRefusalWords } from "../../server/delivery/refusals.ts";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
import type { OrderTerms } from "../../server/orders/order.ts";
import { markPacked } from "../../server/packing/markPacked.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { insertCarrier, insertCustomer, insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyWorkroom, newPacker, onShelf, orderNow, type Packer } from "../packing/workroom.ts";

const TUESDAY = new Date("2027-03-02T10:00:00Z");
const WEDNESDAY = new Date("2027-03-03T10:00:00Z");
const THURSDAY = new Date("2027-03-04T10:00:00Z");

const database = useDatabase();
let fig: Packer;
let cedar: number;
let customerId: number;
let first: number;
let second: number;
let heron: number;

beforeAll(async () => {
  fig = await newPacker(database, "Fig");
  heron = await insertCarrier(database.db);
});

/** Two lots of the one product: 10 in AAA, 40 in BBB. */
beforeEach(async () => {
  await emptyWorkroom(database);
  cedar = await insertProduct(database.db);
  customerId = await insertCustomer(database.db);
  first = await insertReadyLot(database.db, { productId: cedar, units: 10, code: "AAA" });
  second = await insertReadyLot(database.db, { productId: cedar, units: 40, code: "BBB" });
});

describe("a whole order", () => {
  it("leaves as one delivery with its pieces lot by lot, and arrives", async () => {
    const orderId = await orderOf("complete", 12);
    await pack(orderId, first, 10);
    await pack(orderId, second, 2);
    await mark(orderId);
    const delivery = await ship(orderId, TUESDAY);
    expect(await carried(delivery)).toEqual(["10 of AAA", "2 of BBB"]);
    expect(await orderNow(database, orderId)).toEqual({
      ...{ state: "shipped", packed: "03-01T12:00", shipped: "03-02T10:00", delivered: null },
    });
    expect(await arrive(delivery, WEDNESDAY)).toBe("arrived");
    expect(await orderNow(database, orderId)).toEqual({
      ...{ state: "delivered", packed: "03-01T12:00", shipped: "03-02T10:00", delivered: "03-03T10:00" },
    });
  });

  it("takes nothing more off the shelf by leaving", async () => {
    const orderId = await orderOf("complete", 12);
    await pack(orderId, second, 12);
    await mark(orderId);
    await ship(orderId);
    expect(await onShelf(database, second)).toBe(28);
  });

  it("never leaves in parts", async () => {
    const orderId = await orderOf("complete", 12);
    await pack(orderId, second, 11);
    expect(await whyNot(orderId)).toBe(
      "W-104 leaves in one delivery only: pack every line and mark it as packed first.",
    );
    expect(await database.sql`select 1 from deliveries`).toHaveLength(0);
  });

  it("leaves once", async () => {
    const orderId = await orderOf("complete", 12);
    await pack(orderId, second, 12);
    await mark(orderId);
    await ship(orderId);
    expect(await whyNot(orderId)).toBe("W-104 has left already.");
    expect(await database.sql`select 1 from deliveries`).toHaveLength(1);
  });

  it("does not leave before anything is packed, and is not there if it is not there", async () => {
    expect(await whyNot(await orderOf("complete", 12))).toBe("Nothing is packed for W-104 yet.");
    expect(await whyNot(999_999)).toBe("There is no such order.");
  });
});

describe("an order that takes part deliveries", () => {
  it("leaves part by part, stays in packing in between, and is delivered with its last part", async () => {
    const orderId = await orderOf("as-ready", 12);
    await pack(orderId, first, 5);
    const early = await ship(orderId, TUESDAY);
    expect(await carried(early)).toEqual(["5 of AAA"]);
    expect(await orderNow(database, orderId)).toMatchObject({
      state: "packing",
      packed: null,
      shipped: null,
    });
    expect(await whyNot(orderId)).toBe("Nothing packed for W-104 is left to ship.");

    await pack(orderId, first, 2);
    await pack(orderId, second, 5);
    const late = await ship(orderId, WEDNESDAY);
    expect(await carried(late)).toEqual(["2 of AAA", "5 of BBB"]);
    expect(await orderNow(database, orderId)).toMatchObject({
      ...{ state: "shipped", packed: "03-03T10:00", shipped: "03-03T10:00" },
    });

    expect(await arrive(late, THURSDAY)).toBe("arrived");
    expect(await orderNow(database, orderId)).toMatchObject({ state: "shipped", delivered: null });
    expect(await arrive(early, new Date("2027-03-05T10:00:00Z"))).toBe("arrived");
    expect(await orderNow(database, orderId)).toMatchObject({ state: "delivered", delivered: "03-05T10:00" });
  });

  it("is not delivered when all that left has arrived but more is to come", async () => {
    const orderId = await orderOf("as-ready", 12);
    await pack(orderId, first, 5);
    await arrive(await ship(orderId), TUESDAY);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "packing", delivered: null });
  });

  it("is delivered with its last part when the earlier ones arrived before it left", async () => {
    const orderId = await orderOf("as-ready", 12);
    await pack(orderId, first, 5);
    await arrive(await ship(orderId), TUESDAY);
    await pack(orderId, second, 7);
    await mark(orderId);
    const last = await ship(orderId, WEDNESDAY);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "shipped", packed: "03-01T12:00" });
    await arrive(last, THURSDAY);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "delivered", delivered: "03-04T10:00" });
  });
});

describe("a market's crate", () => {
  it("leaves short as it was marked, and not before", async () => {
    const orderId = await orderOf("market", 12);
    await pack(orderId, first, 7);
    expect(await whyNot(orderId)).toBe("W-104 is for a market: mark it as packed first, short if need be.");
    await mark(orderId, true);
    const delivery = await ship(orderId, TUESDAY);
    expect(await carried(delivery)).toEqual(["7 of AAA"]);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "shipped", shipped: "03-02T10:00" });
  });
});

describe("ticking a delivery off", () => {
  it("happens once", async () => {
    const orderId = await orderOf("complete", 12);
    await pack(orderId, second, 12);
    await mark(orderId);
    const delivery = await ship(orderId);
    await arrive(delivery, TUESDAY);
    expect(await arrive(delivery, WEDNESDAY)).toBe("This delivery of W-104 is marked as delivered already.");
    expect(await orderNow(database, orderId)).toMatchObject({ delivered: "03-02T10:00" });
    expect(await arrive(999_999, WEDNESDAY)).toBe("There is no such delivery.");
  });

  it("says who, when, from what, to what, as leaving does", async () => {
    const orderId = await orderOf("complete", 12);
    await pack(orderId, second, 12);
    await mark(orderId);
    const deliveryId = await ship(orderId, TUESDAY);
    await arrive(deliveryId, WEDNESDAY);
    const changes = await database.sql`select person_id, at, what, before, after from changes
      where subject = 'order' and subject_id = ${orderId} and what in ('shipped', 'delivered') order by id`;
    expect(changes).toMatchObject([
      {
        ...{ person_id: fig.personId, at: TUESDAY, what: "shipped", before: { state: "packed" } },
        after: {
          state: "shipped",
          deliveryId,
          how: "parcel",
          parcels: [{ carrierId: heron, tracking: "HP 1" }],
        },
      },
      {
        ...{ person_id: fig.personId, at: WEDNESDAY, what: "delivered", before: { state: "shipped" } },
        after: { state: "delivered", deliveryId },
      },
    ]);
  });
});

describe("the database itself, whoever writes", () => {
  it("refuses to ship more of a lot than was packed of it for the line", async () => {
    const orderId = await orderOf("as-ready", 12);
    await pack(orderId, first, 5);
    const delivery = await ship(orderId);
    await expect(
      database.sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
        select ${delivery}, id, ${first}, 1 from order_lines where order_id = ${orderId}`,
    ).rejects.toThrow("more shipped than packed");
  });

  it("never rewrites what a delivery carried", async () => {
    const orderId = await orderOf("as-ready", 12);
    await pack(orderId, first, 5);
    await ship(orderId);
    await expect(database.sql`delete from delivery_lines`).rejects.toThrow("never changed or removed");
  });
});

async function orderOf(terms: OrderTerms, units: number): Promise<number> {
  const order = { customerId, terms, lines: [{ productId: cedar, units }] };
  return (await insertOrder(database.db, order)).orderId;
}

async function pack(orderId: number, lotId: number, units: number): Promise<void> {
  const [line] = await database.sql<{ id: number }[]>`select id from order_lines where order_id = ${orderId}`;
  const packed = await fig.do(packPieces, { orderLineId: line?.id ?? 0, takes: [{ lotId, units }] });
  expect(packed.ok).toBe(true);
}

async function mark(orderId: number, leavesShort = false): Promise<void> {
  expect((await fig.do(markPacked, { orderId, leavesShort })).ok).toBe(true);
}

function send(orderId: number, at: Date) {
  const parcel = { carrierId: heron, service: "slow", grams: 900, tracking: "HP 1" };
  return fig.do(shipOrder, { orderId, how: "parcel", parcels: [parcel] }, at);
}

async function ship(orderId: number, at = TUESDAY): Promise<number> {
  const outcome = await send(orderId, at);
  if (!outcome.ok) throw new Error(deliveryRefusalWords(outcome.refusal));
  return outcome.value.deliveryId;
}

async function whyNot(orderId: number): Promise<string> {
  return wordsOf(await send(orderId, TUESDAY), "left");
}

async function arrive(deliveryId: number, at: Date): Promise<string> {
  return wordsOf(await fig.do(recordDelivered, { deliveryId }, at), "arrived");
}

function wordsOf(
  outcome: { readonly ok: true } | { readonly ok: false; readonly refusal: DeliveryRefusal },
  done: string,
): string {
  return outcome.ok ? done : deliveryRefusalWords(outcome.refusal);
}

async function carried(deliveryId: number): Promise<string[]> {
  const rows = await database.sql<{ units: number; code: string }[]>`select units, code from delivery_lines
    join lots on lots.id = lot_id where delivery_id = ${deliveryId} order by delivery_lines.id`;
  return rows.map(({ units, code }) => `${units} of ${code}`);
}
