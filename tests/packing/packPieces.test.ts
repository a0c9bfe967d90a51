import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { packPieces } from "../../server/packing/packPieces.ts";
import { packingRefusalWords } from "../../server/packing/refusals.ts";
import {
  insertCustomer,
  insertDryingLot,
  insertOrder,
  insertProduct,
  insertReadyLot,
} from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyWorkroom, firstOf, newPacker, onShelf, orderNow, type Packer } from "./workroom.ts";

const database = useDatabase();
let fig: Packer;
let cedar: number;
let customerId: number;

beforeAll(async () => {
  fig = await newPacker(database, "Fig");
});

beforeEach(async () => {
  await emptyWorkroom(database);
  cedar = await insertProduct(database.db);
  customerId = await insertCustomer(database.db);
});

describe("packing pieces into an order", () => {
  it("moves them from the lot to the line, and starts the packing of a confirmed order", async () => {
    const { orderId, lineId } = await orderOf(12);
    const lotId = await insertReadyLot(database.db, { productId: cedar, units: 20 });
    const packed = await fig.do(packPieces, { orderLineId: lineId, takes: [{ lotId, units: 5 }] });
    expect(packed).toEqual({ ok: true, value: { orderId } });
    expect(await onShelf(database, lotId)).toBe(15);
    expect(await movesOf(lotId)).toEqual(["made 20", "packed -5 by Fig"]);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "packing", packed: null });
  });

  it("takes from several lots at once", async () => {
    const { lineId } = await orderOf(12);
    const first = await insertReadyLot(database.db, { productId: cedar, units: 5, code: "AAA" });
    const second = await insertReadyLot(database.db, { productId: cedar, units: 9, code: "BBB" });
    await fig.do(packPieces, {
      orderLineId: lineId,
      takes: [
        { lotId: second, units: 7 },
        { lotId: first, units: 5 },
      ],
    });
    expect([await onShelf(database, first), await onShelf(database, second)]).toEqual([0, 2]);
  });

  it("says who, when, from what, to what", async () => {
    const { orderId, lineId } = await orderOf(12);
    const lotId = await insertReadyLot(database.db, { productId: cedar, units: 20 });
    await fig.do(packPieces, { orderLineId: lineId, takes: [{ lotId, units: 5 }] });
    const [change] =
      await database.sql`select * from changes where subject = 'order' and subject_id = ${orderId}`;
    expect(change).toMatchObject({
      person_id: fig.personId,
      at: fig.at,
      what: "packed into",
      before: { state: "confirmed" },
      after: { state: "packing", orderLineId: lineId, takes: [{ lotId, units: 5 }] },
    });
  });

  it("fills a line to the last piece and refuses one more", async () => {
    const { lineId } = await orderOf(12);
    const lotId = await insertReadyLot(database.db, { productId: cedar, units: 20 });
    expect(await pack(lineId, lotId, 12)).toBe("packed");
    expect(await pack(lineId, lotId, 1)).toBe("Nothing is left to pack on this line.");
    expect(await onShelf(database, lotId)).toBe(8);
  });

  it("refuses more than the lot holds, even when one lot is named twice", async () => {
    const { lineId } = await orderOf(12);
    const lotId = await insertReadyLot(database.db, { productId: cedar, units: 8 });
    const twice = await fig.do(packPieces, {
      orderLineId: lineId,
      takes: [
        { lotId, units: 5 },
        { lotId, units: 4 },
      ],
    });
    expect(twice).toMatchObject({ ok: false, refusal: { why: "lot-short", left: 8 } });
    expect(await pack(lineId, lotId, 9)).toBe("Only 8 of lot K7Q are left.");
    expect(await pack(lineId, lotId, 8)).toBe("packed");
  });

  it("packs all of what was asked or nothing", async () => {
    const { orderId, lineId } = await orderOf(12);
    const enough = await insertReadyLot(database.db, { productId: cedar, units: 9, code: "AAA" });
    const scarce = await insertReadyLot(database.db, { productId: cedar, units: 2, code: "BBB" });
    const both = await fig.do(packPieces, {
      orderLineId: lineId,
      takes: [
        { lotId: enough, units: 9 },
        { lotId: scarce, units: 3 },
      ],
    });
    expect(both).toMatchObject({ ok: false, refusal: { why: "lot-short", lotCode: "BBB" } });
    expect(await onShelf(database, enough)).toBe(9);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "confirmed" });
  });

  it("refuses what still dries, what is another product, and what does not exist", async () => {
    const { lineId } = await orderOf(12);
    const drying = await insertDryingLot(database.db, { productId: cedar, units: 20 });
    const oat = await insertProduct(database.db, { code: "oat-cream/puck-50" });
    const other = await insertReadyLot(database.db, { productId: oat, units: 20, code: "0AT" });
    expect(await pack(lineId, drying, 1)).toContain("Lot D4R cannot be packed here");
    expect(await pack(lineId, other, 1)).toContain("Lot 0AT cannot be packed here");
    expect(await pack(lineId, 999_999, 1)).toBe("There is no such lot.");
    expect(await pack(999_999, drying, 1)).toBe("This order has no such line any more.");
  });

  it.each([
    ["draft", { confirmedAt: null }, "can be packed once it is confirmed"],
    ["cancelled", { cancelledAt: new Date() }, "is cancelled"],
    ["shipped", { packedAt: new Date(), shippedAt: new Date() }, "has left the workshop"],
    [
      "delivered",
      { packedAt: new Date(), shippedAt: new Date(), deliveredAt: new Date() },
      "has left the workshop",
    ],
  ] as const)("packs nothing into an order that is %s", async (state, times, words) => {
    const lotId = await insertReadyLot(database.db, { productId: cedar, units: 20 });
    const { lineId } = await orderOf(12, { state, ...times });
    expect(await pack(lineId, lotId, 1)).toContain(words);
    expect(await onShelf(database, lotId)).toBe(20);
  });
});

describe("the database itself, whoever writes", () => {
  it("refuses a move that packs more than ordered", async () => {
    const { lineId } = await orderOf(12);
    const lotId = await insertReadyLot(database.db, { productId: cedar, units: 20 });
    await expect(
      database.sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lotId}, 'packed', -13, ${lineId}, now())`,
    ).rejects.toThrow("more packed than ordered");
    expect(await onShelf(database, lotId)).toBe(20);
  });

  it("refuses a move that takes more than there is", async () => {
    const { lineId } = await orderOf(12);
    const lotId = await insertReadyLot(database.db, { productId: cedar, units: 3 });
    await expect(
      database.sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lotId}, 'packed', -4, ${lineId}, now())`,
    ).rejects.toThrow("fewer than no pieces");
  });
});

async function orderOf(units: number, given: object = {}) {
  const { orderId, lineIds } = await insertOrder(database.db, {
    customerId,
    lines: [{ productId: cedar, units }],
    ...given,
  });
  return { orderId, lineId: firstOf(lineIds) };
}

/** "packed", or the sentence of the refusal. */
async function pack(orderLineId: number, lotId: number, units: number): Promise<string> {
  const outcome = await fig.do(packPieces, { orderLineId, takes: [{ lotId, units }] });
  return outcome.ok ? "packed" : packingRefusalWords(outcome.refusal);
}

async function movesOf(lotId: number): Promise<string[]> {
  const rows = await database.sql<{ kind: string; units: number; name: string | null }[]>`
    select kind, units, name from moves left join people on people.id = person_id where lot_id = ${lotId} order by moves.id`;
  return rows.map(({ kind, units, name }) => `${kind} ${units}${name ? ` by ${name}` : ""}`);
}
