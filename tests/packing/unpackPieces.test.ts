import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
import { markPacked } from "../../server/packing/markPacked.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { packingRefusalWords } from "../../server/packing/refusals.ts";
import { unpackPieces } from "../../server/packing/unpackPieces.ts";
import { insertCustomer, insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyWorkroom, firstOf, newPacker, onShelf, orderNow, type Packer } from "./workroom.ts";

const PARCEL = { how: "parcel", parcels: [] } as const;
const database = useDatabase();
let fig: Packer;
let lotId: number;
let orderId: number;
let lineId: number;

beforeAll(async () => {
  fig = await newPacker(database, "Fig");
});

/** 20 on the shelf, 12 ordered in part deliveries, 8 of them packed. */
beforeEach(async () => {
  await emptyWorkroom(database);
  const productId = await insertProduct(database.db);
  const customerId = await insertCustomer(database.db);
  const order = await insertOrder(database.db, {
    customerId,
    terms: "as-ready",
    lines: [{ productId, units: 12 }],
  });
  orderId = order.orderId;
  lineId = firstOf(order.lineIds);
  lotId = await insertReadyLot(database.db, { productId, units: 20 });
  await pack(8);
});

describe("taking pieces out of the box", () => {
  it("puts them back on the shelf and leaves the rest", async () => {
    expect(await unpack(3)).toBe("taken out");
    expect(await onShelf(database, lotId)).toBe(15);
    expect(await packedOfLine()).toBe(5);
  });

  it("takes out all there is, but not one more", async () => {
    expect(await unpack(9)).toBe("Only 8 of lot K7Q can be taken out.");
    expect(await unpack(8)).toBe("taken out");
    expect(await unpack(1)).toBe("Nothing of lot K7Q is in this box.");
    expect(await onShelf(database, lotId)).toBe(20);
  });

  it("opens a packed order again and forgets when it was packed", async () => {
    await pack(4);
    await fig.do(markPacked, { orderId, leavesShort: false });
    expect(await orderNow(database, orderId)).toMatchObject({ state: "packed", packed: "03-01T12:00" });
    expect(await unpack(1)).toBe("taken out");
    expect(await orderNow(database, orderId)).toMatchObject({ state: "packing", packed: null });
  });

  it("never takes out what has left the workshop", async () => {
    await fig.do(shipOrder, { orderId, ...PARCEL });
    await pack(2);
    expect(await unpack(3)).toBe("Only 2 of lot K7Q can be taken out; 8 have left the workshop.");
    expect(await unpack(2)).toBe("taken out");
    expect(await unpack(1)).toBe("Nothing of lot K7Q is in this box; 8 have left the workshop.");
  });

  it("never opens an order that has left whole", async () => {
    await pack(4);
    await fig.do(markPacked, { orderId, leavesShort: false });
    await fig.do(shipOrder, { orderId, ...PARCEL });
    expect(await unpack(1)).toContain("has left the workshop; its box cannot be changed");
    expect(await orderNow(database, orderId)).toMatchObject({ state: "shipped" });
  });

  it("knows no lot that was never packed here", async () => {
    const outcome = await fig.do(unpackPieces, { orderLineId: lineId, lotId: 999_999, units: 1 });
    expect(outcome).toEqual({ ok: false, refusal: { why: "lot-unfit", lotCode: null } });
  });
});

describe("the database itself, whoever writes", () => {
  it("refuses to unpack what has left", async () => {
    await fig.do(shipOrder, { orderId, ...PARCEL });
    await expect(
      database.sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lotId}, 'unpacked', 1, ${lineId}, now())`,
    ).rejects.toThrow("what has left the workshop cannot be unpacked");
  });
});

async function pack(units: number): Promise<void> {
  const packed = await fig.do(packPieces, { orderLineId: lineId, takes: [{ lotId, units }] });
  expect(packed.ok).toBe(true);
}

async function unpack(units: number): Promise<string> {
  const outcome = await fig.do(unpackPieces, { orderLineId: lineId, lotId, units });
  return outcome.ok ? "taken out" : packingRefusalWords(outcome.refusal);
}

async function packedOfLine(): Promise<number> {
  const [row] = await database.sql<{ packed: number }[]>`
    select packed_units as packed from line_progress where order_line_id = ${lineId}`;
  return row?.packed ?? 0;
}
