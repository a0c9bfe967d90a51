import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { deliveryRefusalWords } from "../../server/delivery/refusals.ts";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
import { holdLot, releaseLot } from "../../server/holds/holdLot.ts";
import { holdRefusalWords } from "../../server/holds/refusals.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { findOrderToPack, listOrdersToPack, readGatheredList } from "../../server/packing/queries.ts";
import { packingRefusalWords } from "../../server/packing/refusals.ts";
import { buildCase } from "../../server/plans/buildCase.ts";
import { loadFacts } from "../../server/plans/loadFacts.ts";
import { supplyByProduct } from "../../server/rollup/queries.ts";
import {
  insertCustomer,
  insertDryingLot,
  insertOrder,
  insertProduct,
  insertReadyLot,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyWorkroom, firstOf, NOON, newPacker, onShelf, type Packer } from "../packing/workroom.ts";

const database = useDatabase();
let fig: Packer;
let wren: Packer;
let cedar: number;
let customerId: number;
let lotId: number;

beforeAll(async () => {
  await insertWorkshop(database.db);
  await insertWorkingWeek(database.db);
  fig = await newPacker(database, "Fig");
  wren = await newPacker(database, "Wren");
});

/** 12 of lot K7Q on the shelf. */
beforeEach(async () => {
  await emptyWorkroom(database);
  cedar = await insertProduct(database.db);
  customerId = await insertCustomer(database.db);
  lotId = await insertReadyLot(database.db, { productId: cedar, units: 12 });
});

describe("a lot on hold", () => {
  it("is not packed, and the packer is told why; let go, it is packed again", async () => {
    const { lineId } = await orderOf("W-104", 8);
    await hold("smells burnt");
    expect(await pack(lineId, 4)).toBe("Lot K7Q is on hold: smells burnt.");
    expect(await onShelf(database, lotId)).toBe(12);
    await wren.do(releaseLot, { lotId, note: "it was the tray" });
    expect(await pack(lineId, 4)).toBe("packed");
  });

  it("keeps in the workshop what was packed of it before, and gives it back to the shelf", async () => {
    const { orderId, lineId } = await orderOf("W-104", 8);
    await pack(lineId, 8);
    await hold("smells burnt.");
    expect(await ship(orderId)).toBe(
      "Lot K7Q is on hold: smells burnt. Take its pieces out of the box for W-104 before the box leaves.",
    );
    await wren.do(releaseLot, { lotId, note: "it was the tray" });
    expect(await ship(orderId)).toBe("left");
  });

  it("is left out of what is suggested, gathered and counted on for promises", async () => {
    const { orderId } = await orderOf("W-104", 8);
    const later = await insertReadyLot(database.db, { productId: cedar, units: 3, code: "M4X" });
    await hold("smells burnt");
    const [row] = await listOrdersToPack(database.db);
    // Only the 3 of the other lot are free; 5 of the 8 are missing.
    expect([row?.free, row?.missing.map(({ units }) => units)]).toEqual([3, [5]]);
    const order = await findOrderToPack(database.db, orderId);
    expect(order?.lines[0]?.suggestion.map(({ id, take }) => [id, take])).toEqual([[later, 3]]);
    expect(order?.lines[0]?.shelf.map(({ id }) => id)).toEqual([later]);
    expect(order?.stopped.map(({ code, units }) => [code, units])).toEqual([["K7Q", 12]]);
    const gathered = await readGatheredList(database.db, [orderId]);
    expect(gathered.takes.map(({ code, units }) => [code, units])).toEqual([["M4X", 3]]);
  });

  it("is no stock to the planner nor to the roll-up, on the shelf or drying, but lies on its trays", async () => {
    await orderOf("W-104", 8);
    const drying = await insertDryingLot(database.db, { productId: cedar, units: 5 });
    await hold("smells burnt");
    await fig.do(holdLot, { lotId: drying, reason: "same bowl" });
    const facts = await database.db.transaction((transaction) => loadFacts(transaction));
    const built = buildCase(facts, NOON);
    if (!built.ok) throw new Error(built.refusal.kind);
    const { stock, drying: lying, orders } = built.value.planCase;
    expect(stock).toEqual([]);
    expect(lying.map(({ units, expectedLosses, trays }) => ({ units, expectedLosses, trays }))).toEqual([
      { units: 5, expectedLosses: 5, trays: 1 },
    ]);
    // All 8 are to be made: what dries comes on top of them as nobody's.
    expect(orders[0]?.lines).toEqual([{ product: "cedar-amber/ball-60", units: 13, spare: 5 }]);
    expect(await supplyByProduct(database.db)).toEqual([]);
  });

  it("is put on hold once, with pieces only, and let go once", async () => {
    await hold("smells burnt");
    const again = await fig.do(holdLot, { lotId, reason: "cracks" });
    expect(again.ok ? "" : holdRefusalWords(again.refusal)).toBe("Lot K7Q is on hold already.");
    await wren.do(releaseLot, { lotId, note: "fine" });
    const twice = await wren.do(releaseLot, { lotId, note: "fine" });
    expect(twice.ok ? "" : holdRefusalWords(twice.refusal)).toBe("Lot K7Q is not on hold any more.");
    const history = await database.sql`select what from changes where subject = 'lot' order by id`;
    expect(history.slice(-2).map(({ what }) => what)).toEqual(["put on hold", "let go"]);
  });

  it.each(["hold first", "packing first"])("never meets a packer halfway: %s", async (order) => {
    const { lineId } = await orderOf("W-104", 8);
    const work = [
      () => bare((transaction) => holdLot(transaction, fig, { lotId, reason: "smells burnt" })),
      () =>
        bare((transaction) =>
          packPieces(transaction, wren, { orderLineId: lineId, takes: [{ lotId, units: 8 }] }),
        ),
    ];
    const [first, second] = order === "hold first" ? work : work.toReversed();
    if (!first || !second) throw new Error("Two of them meet");
    await overlapping<unknown>(
      database.sql,
      (gate) => gate`select 1 from lots where id = ${lotId} for update`,
      [first, second],
    );
    const packed = await database.sql`select 1 from moves where kind = 'packed'`;
    // Packed before the hold was there, or not at all: the history of both tells which came first.
    const [last] = await database.sql`select what from changes where what in ('packed into', 'put on hold')
      order by id desc limit 1`;
    expect(last?.what).toBe("put on hold");
    expect(await onShelf(database, lotId)).toBe(packed.length === 0 ? 12 : 4);
  });

  it("is kept by the database too, whoever writes", async () => {
    const { orderId, lineId } = await orderOf("W-104", 8);
    await pack(lineId, 4);
    await hold("smells burnt");
    const { sql } = database;
    await expect(
      sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lotId}, 'packed', -1, ${lineId}, now())`,
    ).rejects.toMatchObject({ constraint_name: "moves_not_of_stopped_lots" });
    const [delivery] = await sql`insert into deliveries (order_id, how, state, shipped_at)
      values (${orderId}, 'parcel', 'shipped', now()) returning id`;
    await expect(
      sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
        values (${delivery?.id}, ${lineId}, ${lotId}, 4)`,
    ).rejects.toMatchObject({ constraint_name: "delivery_lines_not_of_stopped_lots" });
    // Out of the box it may come.
    await sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lotId}, 'unpacked', 4, ${lineId}, now())`;
    expect(await onShelf(database, lotId)).toBe(12);
  });
});

async function hold(reason: string): Promise<void> {
  const held = await fig.do(holdLot, { lotId, reason });
  if (!held.ok) throw new Error(holdRefusalWords(held.refusal));
}

async function pack(orderLineId: number, units: number): Promise<string> {
  const packed = await fig.do(packPieces, { orderLineId, takes: [{ lotId, units }] });
  return packed.ok ? "packed" : packingRefusalWords(packed.refusal);
}

async function ship(orderId: number): Promise<string> {
  const left = await wren.do(shipOrder, { orderId, how: "parcel", parcels: [] });
  return left.ok ? "left" : deliveryRefusalWords(left.refusal);
}

async function bare<Value>(work: Parameters<typeof database.db.transaction<Value>>[0]): Promise<Value> {
  return await database.db.transaction(work);
}

/** An order of one line that takes part deliveries. */
async function orderOf(reference: string, units: number) {
  const { orderId, lineIds } = await insertOrder(database.db, {
    ...{ customerId, reference, terms: "as-ready" },
    lines: [{ productId: cedar, units }],
  });
  return { orderId, lineId: firstOf(lineIds) };
}
