import type { TransactionSql } from "postgres";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { packingRefusalWords } from "../../server/packing/refusals.ts";
import type { Take } from "../../server/packing/suggestLots.ts";
import { unpackPieces } from "../../server/packing/unpackPieces.ts";
import { insertCustomer, insertOrder, insertPerson, insertProduct, insertReadyLot } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyWorkroom, firstOf, NOON, onShelf } from "./workroom.ts";

/*
 * Both packers are held back at a lock until both of them wait, and only then let go: each has read what it
 * needs to know by then, and only what is read again under the lock can save them. The commands run in a bare
 * transaction here, so that a deadlock would be an error and not a second attempt.
 */

const database = useDatabase();
let fig: number;
let wren: number;
let productId: number;
let customerId: number;

beforeAll(async () => {
  fig = await insertPerson(database.db, { name: "Fig" });
  wren = await insertPerson(database.db, { name: "Wren" });
});

beforeEach(async () => {
  await emptyWorkroom(database);
  productId = await insertProduct(database.db);
  customerId = await insertCustomer(database.db);
});

describe("two people packing at once", () => {
  it("never take the same pieces of a lot: the second is told how many are left and who was quicker", async () => {
    const lotId = await insertReadyLot(database.db, { productId, units: 12 });
    const [one, other] = [await lineOf("W-101", 12), await lineOf("W-102", 12)];
    const seen = await lastMove();
    const outcomes = await overlapping(
      database.sql,
      (gate) => gate`select 1 from lots where id = ${lotId} for update`,
      [
        () => pack(fig, one.lineId, [{ lotId, units: 9 }], seen),
        () => pack(wren, other.lineId, [{ lotId, units: 9 }], seen),
      ],
    );
    expect(outcomes.toSorted()).toEqual([
      expect.stringMatching(/^Only 3 of lot K7Q are left; (Fig|Wren) has just packed 9\.$/),
      "packed",
    ]);
    expect(await onShelf(database, lotId)).toBe(3);
  });

  it("never pack more into a line than was ordered, though each takes from another lot", async () => {
    const first = await insertReadyLot(database.db, { productId, units: 12, code: "AAA" });
    const second = await insertReadyLot(database.db, { productId, units: 12, code: "BBB" });
    const { orderId, lineId } = await lineOf("W-101", 12);
    const seen = await lastMove();
    const held = (gate: TransactionSql) => gate`select 1 from orders where id = ${orderId} for update`;
    const outcomes = await overlapping(database.sql, held, [
      () => pack(fig, lineId, [{ lotId: first, units: 8 }], seen),
      () => pack(wren, lineId, [{ lotId: second, units: 8 }], seen),
    ]);
    expect(outcomes.toSorted()).toEqual([
      expect.stringMatching(/^Only 4 pieces are left to pack on this line; (Fig|Wren) has just packed 8\.$/),
      "packed",
    ]);
    expect((await onShelf(database, first)) + (await onShelf(database, second))).toBe(16);
  });

  it("never wait for each other in a ring when they name their lots in opposite orders", async () => {
    const first = await insertReadyLot(database.db, { productId, units: 20, code: "AAA" });
    const middle = await insertReadyLot(database.db, { productId, units: 20, code: "BBB" });
    const last = await insertReadyLot(database.db, { productId, units: 20, code: "CCC" });
    const [one, other] = [await lineOf("W-101", 12), await lineOf("W-102", 12)];
    // Held at the middle lot, each would have its first one already, which is the other's last.
    const held = (gate: TransactionSql) => gate`select 1 from lots where id = ${middle} for update`;
    const outcomes = await overlapping(database.sql, held, [
      () => pack(fig, one.lineId, [take(first, 4), take(middle, 4), take(last, 4)]),
      () => pack(wren, other.lineId, [take(last, 4), take(middle, 4), take(first, 4)]),
    ]);
    expect(outcomes).toEqual(["packed", "packed"]);
    const left = [first, middle, last].map((lotId) => onShelf(database, lotId));
    expect(await Promise.all(left)).toEqual([12, 12, 12]);
  });

  it("never ship a piece that the other takes out at the same time", async () => {
    const lotId = await insertReadyLot(database.db, { productId, units: 12 });
    const { orderId, lineId } = await lineOf("W-101", 12);
    await pack(fig, lineId, [take(lotId, 8)]);
    const held = (gate: TransactionSql) => gate`select 1 from orders where id = ${orderId} for update`;
    await overlapping<unknown>(database.sql, held, [
      () =>
        database.db.transaction((transaction) =>
          shipOrder(transaction, by(fig), { orderId, how: "parcel", parcels: [] }),
        ),
      () =>
        database.db.transaction((transaction) =>
          unpackPieces(transaction, by(wren), { orderLineId: lineId, lotId, units: 8 }),
        ),
    ]);
    const [line] =
      await database.sql`select packed_units, shipped_units from line_progress where order_line_id = ${lineId}`;
    // Whoever came first: all eight have left, or all eight stand on the shelf again.
    expect([
      { packed_units: 8, shipped_units: 8 },
      { packed_units: 0, shipped_units: 0 },
    ]).toContainEqual(line);
  });
});

/** An order of one line that takes part deliveries. */
async function lineOf(reference: string, units: number) {
  const { orderId, lineIds } = await insertOrder(database.db, {
    ...{ customerId, reference, terms: "as-ready" },
    lines: [{ productId, units }],
  });
  return { orderId, lineId: firstOf(lineIds) };
}

async function pack(
  personId: number,
  orderLineId: number,
  takes: readonly Take[],
  lastMoveSeen = 0,
): Promise<string> {
  const outcome = await database.db.transaction((transaction) =>
    packPieces(transaction, by(personId), { orderLineId, takes, lastMoveSeen }),
  );
  return outcome.ok ? "packed" : packingRefusalWords(outcome.refusal);
}

function by(personId: number) {
  return { personId, at: NOON };
}

function take(lotId: number, units: number): Take {
  return { lotId, units };
}

async function lastMove(): Promise<number> {
  const [row] = await database.sql<{ id: string }[]>`select max(id) as id from moves`;
  return Number(row?.id ?? 0);
}
