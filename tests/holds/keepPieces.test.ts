import fc from "fast-check";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { keepPieces, letPiecesGo } from "../../server/holds/keepPieces.ts";
import { holdRefusalWords } from "../../server/holds/refusals.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { findOrderToPack } from "../../server/packing/queries.ts";
import { packingRefusalWords } from "../../server/packing/refusals.ts";
import { type ShelfLot, shareShelf } from "../../server/packing/suggestLots.ts";
import { unpackPieces } from "../../server/packing/unpackPieces.ts";
import { insertCustomer, insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyWorkroom, firstOf, newPacker, onShelf, type Packer } from "../packing/workroom.ts";

const database = useDatabase();
let fig: Packer;
let cedar: number;
let customerId: number;
let older: number;
let newer: number;

beforeAll(async () => {
  fig = await newPacker(database, "Fig");
});

/** 12 of lot OLD, ready before the 12 of lot NEW. */
beforeEach(async () => {
  await emptyWorkroom(database);
  cedar = await insertProduct(database.db);
  customerId = await insertCustomer(database.db);
  older = await insertReadyLot(database.db, { productId: cedar, units: 12, code: "OLD" });
  const readyAt = new Date("2027-03-01T11:00:00Z");
  newer = await insertReadyLot(database.db, { productId: cedar, units: 12, code: "NEW", readyAt });
});

describe("pieces kept for an order", () => {
  it("are suggested to it first and left by the others, which go on first ready, first out", async () => {
    const first = await orderOf("W-104", 10, "2027-03-02");
    const second = await orderOf("W-105", 10, "2027-03-09");
    await keep(older, second.lineId, 7);
    // W-104 is promised first, but only 5 of OLD are not kept; W-105 has its 7 of OLD and 3 of NEW.
    expect(await suggested(first.orderId)).toEqual(["5 of OLD", "5 of NEW"]);
    expect(await suggested(second.orderId)).toEqual(["7 of OLD", "3 of NEW"]);
    await fig.do(letPiecesGo, { lotId: older, orderLineId: second.lineId });
    expect(await suggested(first.orderId)).toEqual(["10 of OLD"]);
  });

  it("are packed for no other order, and the packer is told for whom they are", async () => {
    const first = await orderOf("W-104", 10, "2027-03-02");
    const second = await orderOf("W-105", 10, "2027-03-09");
    await keep(older, second.lineId, 7);
    expect(await pack(older, first.lineId, 6)).toBe("Only 5 of lot OLD are free: 7 are kept for W-105.");
    expect(await pack(older, first.lineId, 5)).toBe("packed");
    expect(await pack(older, second.lineId, 7)).toBe("packed");
    expect(await onShelf(database, older)).toBe(0);
  });

  it("are fewer by what was packed of them, and kept again when taken out of the box", async () => {
    const { orderId, lineId } = await orderOf("W-105", 10, "2027-03-09");
    await keep(older, lineId, 7);
    await pack(older, lineId, 4);
    expect(await keptNow()).toEqual([3]);
    await fig.do(unpackPieces, { orderLineId: lineId, lotId: older, units: 2 });
    expect(await keptNow()).toEqual([5]);
    // From here on the line wants only 2 more, so no more are kept from others.
    await pack(newer, lineId, 6);
    expect(await keptNow()).toEqual([2]);
    await database.sql`update orders set state = 'cancelled', cancelled_at = now() where id = ${orderId}`;
    expect(await keptNow()).toEqual([]);
  });

  it("are no more than the line wants or than nobody else has kept", async () => {
    const first = await orderOf("W-104", 10, "2027-03-02");
    const second = await orderOf("W-105", 10, "2027-03-09");
    expect(await keep(older, first.lineId, 11)).toBe("W-104 wants only 10 pieces more of this.");
    expect(await keep(older, first.lineId, 10)).toBe("kept");
    expect(await keep(older, second.lineId, 3)).toMatch(/^Only 2 of lot OLD can be kept/);
    expect(await keep(older, first.lineId, 4)).toBe("kept");
    expect(await keep(older, second.lineId, 8)).toBe("kept");
  });

  it("never go twice when two are kept, or one is packed for another, at the same moment", async () => {
    const first = await orderOf("W-104", 10, "2027-03-02");
    const second = await orderOf("W-105", 10, "2027-03-09");
    const outcomes = await overlapping<boolean>(
      database.sql,
      (gate) => gate`select 1 from lots where id = ${older} for update`,
      [
        () =>
          database.db.transaction(async (transaction) => {
            const kept = await keepPieces(transaction, fig, {
              ...{ lotId: older, orderLineId: first.lineId, units: 9 },
            });
            return kept.ok;
          }),
        () =>
          database.db.transaction(async (transaction) => {
            const takes = [{ lotId: older, units: 9 }];
            const packed = await packPieces(transaction, fig, { orderLineId: second.lineId, takes });
            return packed.ok;
          }),
      ],
    );
    // Of 12 pieces 9 go to one of the two; the other is refused.
    expect(outcomes.toSorted()).toEqual([false, true]);
  });
});

/*
 * Held against a recount that is a search: pieces one by one, each given to the first line that may have it.
 */
it("gives every line its own kept pieces, whatever else is promised, and no piece twice", () => {
  const lot = fc.record({
    units: fc.integer({ min: 0, max: 9 }),
    kept: fc.array(fc.integer({ min: 0, max: 4 }), { maxLength: 4 }),
  });
  fc.assert(
    fc.property(
      fc.array(lot, { maxLength: 4 }),
      fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 4 }),
      (drawn, wants) => {
        const lots: ShelfLot[] = drawn.map(({ units, kept }, place) => ({
          ...{ id: place, productId: 1, units, readyDueAt: null },
          kept: kept.flatMap((part, lineId) =>
            part > 0 && lineId < wants.length ? [{ lineId, units: part }] : [],
          ),
        }));
        const shares = shareShelf(
          wants.map((left, lineId) => ({ orderId: lineId, lineId, productId: 1, left })),
          lots,
        );
        expect(wants.map((_, lineId) => shares.get(lineId)?.takes)).toEqual(pieceByPiece(lots, wants));
      },
    ),
  );
});

function pieceByPiece(lots: readonly ShelfLot[], wants: readonly number[]) {
  const all = lots.flatMap(({ id, units, kept = [] }) => {
    const owners = kept.flatMap(({ lineId, units: part }) => Array.from({ length: part }, () => lineId));
    return Array.from({ length: units }, (_, place) => ({
      lotId: id,
      owner: owners[place] ?? null,
      gone: false,
    }));
  });
  return wants.map((left, lineId) => {
    const own = all.filter((piece) => piece.owner === lineId).slice(0, left);
    const others = all.filter((piece) => piece.owner === null && !piece.gone).slice(0, left - own.length);
    const taken = all.filter((piece) => own.includes(piece) || others.includes(piece));
    for (const piece of taken) piece.gone = true;
    return lots.flatMap(({ id }) => {
      const units = taken.filter(({ lotId }) => lotId === id).length;
      return units > 0 ? [{ lotId: id, units }] : [];
    });
  });
}

async function keep(lotId: number, orderLineId: number, units: number): Promise<string> {
  const kept = await fig.do(keepPieces, { lotId, orderLineId, units });
  return kept.ok ? "kept" : holdRefusalWords(kept.refusal);
}

async function pack(lotId: number, orderLineId: number, units: number): Promise<string> {
  const packed = await fig.do(packPieces, { orderLineId, takes: [{ lotId, units }] });
  return packed.ok ? "packed" : packingRefusalWords(packed.refusal);
}

async function suggested(orderId: number): Promise<readonly string[] | undefined> {
  const order = await findOrderToPack(database.db, orderId);
  return order?.lines[0]?.suggestion.map(({ code, take }) => `${take} of ${code}`);
}

async function keptNow(): Promise<readonly number[]> {
  const rows = await database.sql<{ units: number }[]>`select units from kept_now`;
  return rows.map(({ units }) => units);
}

async function orderOf(reference: string, units: number, shipBy: string) {
  const { orderId, lineIds } = await insertOrder(database.db, {
    ...{ customerId, reference, shipBy, terms: "as-ready" },
    lines: [{ productId: cedar, units }],
  });
  return { orderId, lineId: firstOf(lineIds) };
}
