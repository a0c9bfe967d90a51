import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { markPacked } from "../../server/packing/markPacked.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { packingRefusalWords } from "../../server/packing/refusals.ts";
import { insertCustomer, insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyWorkroom, firstOf, newPacker, orderNow, type Packer } from "./workroom.ts";

const database = useDatabase();
let fig: Packer;
let productId: number;
let customerId: number;
let lotId: number;

beforeAll(async () => {
  fig = await newPacker(database, "Fig");
});

beforeEach(async () => {
  await emptyWorkroom(database);
  productId = await insertProduct(database.db);
  customerId = await insertCustomer(database.db);
  lotId = await insertReadyLot(database.db, { productId, units: 50 });
});

describe("marking an order as packed", () => {
  it("takes a full one and keeps the time", async () => {
    const orderId = await orderWith("complete", { packed: 12 });
    expect(await mark(orderId)).toBe("packed");
    expect(await orderNow(database, orderId)).toEqual({
      state: "packed",
      packed: "03-01T12:00",
      shipped: null,
      delivered: null,
    });
  });

  it("happens once", async () => {
    const orderId = await orderWith("complete", { packed: 12 });
    await mark(orderId);
    expect(await mark(orderId)).toBe("W-104 is marked as packed already.");
  });

  it.each(["complete", "as-ready"] as const)(
    "refuses a %s order that lacks a piece, tick or no tick",
    async (terms) => {
      const orderId = await orderWith(terms, { packed: 11 });
      const words = "1 piece is still missing. Only a market's order may leave with what there is.";
      expect(await mark(orderId)).toBe(words);
      expect(await mark(orderId, true)).toBe(words);
      expect(await orderNow(database, orderId)).toMatchObject({ state: "packing", packed: null });
    },
  );

  it("lets a market's crate leave short, but only with the tick", async () => {
    const orderId = await orderWith("market", { packed: 7 });
    expect(await mark(orderId)).toBe(
      "5 pieces are still missing. Pack them, or tick that it leaves with what there is.",
    );
    expect(await mark(orderId, true)).toBe("packed");
    expect(await orderNow(database, orderId)).toMatchObject({ state: "packed" });
  });

  it("writes down how many were missing", async () => {
    const orderId = await orderWith("market", { packed: 7 });
    await mark(orderId, true);
    const [change] = await database.sql`select person_id, before, after from changes
      where subject = 'order' and subject_id = ${orderId} and what = 'marked packed'`;
    expect(change).toEqual({
      person_id: fig.personId,
      before: { state: "packing" },
      after: { state: "packed", missing: 5 },
    });
  });

  it("refuses an empty crate, even for a market", async () => {
    const orderId = await orderWith("market", { packed: 0 });
    expect(await mark(orderId, true)).toBe("Nothing is packed for this order yet.");
  });

  it("opens a crate that was to leave short when more is packed into it", async () => {
    const orderId = await orderWith("market", { packed: 7 });
    await mark(orderId, true);
    const [line] = await database.sql<
      { id: number }[]
    >`select id from order_lines where order_id = ${orderId}`;
    await fig.do(packPieces, { orderLineId: line?.id ?? 0, takes: [{ lotId, units: 5 }] });
    expect(await orderNow(database, orderId)).toMatchObject({ state: "packing", packed: null });
    expect(await mark(orderId)).toBe("packed");
  });

  it("knows no order that is not there", async () => {
    expect(await mark(999_999)).toBe("There is no such order.");
  });
});

async function orderWith(
  terms: "complete" | "as-ready" | "market",
  { packed }: { readonly packed: number },
): Promise<number> {
  const { orderId, lineIds } = await insertOrder(database.db, {
    customerId,
    terms,
    lines: [{ productId, units: 12 }],
  });
  if (packed > 0)
    await fig.do(packPieces, { orderLineId: firstOf(lineIds), takes: [{ lotId, units: packed }] });
  return orderId;
}

async function mark(orderId: number, leavesShort = false): Promise<string> {
  const outcome = await fig.do(markPacked, { orderId, leavesShort });
  return outcome.ok ? "packed" : packingRefusalWords(outcome.refusal);
}
