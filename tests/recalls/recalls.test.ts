import { sql } from "drizzle-orm";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { deliveryRefusalWords } from "../../server/delivery/refusals.ts";
import { shipOrder } from "../../server/delivery/shipOrder.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { packingRefusalWords } from "../../server/packing/refusals.ts";
import { unpackPieces } from "../../server/packing/unpackPieces.ts";
import { beginRecall } from "../../server/recalls/beginRecall.ts";
import { endRecall } from "../../server/recalls/endRecall.ts";
import { findRecall, listRecalls, listUnfinishedRecalls } from "../../server/recalls/queries.ts";
import { recordNotice } from "../../server/recalls/recordNotice.ts";
import { recallRefusalWords } from "../../server/recalls/refusals.ts";
import { chooseLot } from "../../server/supplies/chooseLot.ts";
import { lockSupply } from "../../server/supplies/lockSupplies.ts";
import { useUp } from "../../server/supplies/useUp.ts";
import { insertWorkshop } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { newPacker, type Packer } from "../packing/workroom.ts";
import { insertLot, insertPackingPart, insertSupply, onHand } from "../supplies/storeroom.ts";
import { insertRecalledSoda } from "./recalledSoda.ts";

const database = useDatabase();
/** After what was packed at noon and an hour later. */
const LATER = new Date("2027-03-01T14:00:00Z");
let wren: Packer;
let soda: Awaited<ReturnType<typeof insertRecalledSoda>>;

beforeAll(async () => {
  await insertWorkshop(database.db);
  wren = await newPacker(database, "Wren");
});

beforeEach(async () => {
  await database.sql`truncate customers, blends, shapes, supplies, plans cascade`;
  await database.sql`delete from people where name = 'Pip'`;
  soda = await insertRecalledSoda(database);
});

describe("a recalled lot of a supply", () => {
  it("stops every lot of the batches it is in, what is still mixed too, until the recall ends", async () => {
    const recallId = await recallSoda();
    expect(await stopped()).toEqual(["D4R", "K7Q"]);
    expect(await pack()).toBe("Lot K7Q is recalled with SABCD in it: metal found.");
    expect(await ship()).toMatch(/^Lot K7Q is recalled with SABCD in it: metal found. Take its pieces out/);
    await wren.do(endRecall, { recallId, note: "another bag" });
    expect(await stopped()).toEqual([]);
    expect(await pack()).toBe("packed");
  });

  it("does not concern a batch that gave all of it back", async () => {
    await database.sql`insert into supply_moves (supply_id, lot_id, kind, amount, run_id, at)
      values (${soda.supplyId}, ${soda.supplyLotId}, 'unused', 70000, ${soda.runId}, now())`;
    await recallSoda();
    expect(await stopped()).toEqual(["D4R"]);
  });

  it("does not concern a batch that gave all of it back after a count, which stands", async () => {
    const { supplyId, supplyLotId, runId } = soda;
    await database.sql`insert into supply_moves (supply_id, lot_id, kind, amount, run_id, at) values
      (${supplyId}, ${supplyLotId}, 'counted', 0, null, now()),
      (${supplyId}, ${supplyLotId}, 'unused', 70000, ${runId}, now()),
      (${supplyId}, ${supplyLotId}, 'counted', -70000, ${runId}, now())`;
    await recallSoda();
    expect(await stopped()).toEqual(["D4R"]);
  });

  it("is taken for nothing more: not by itself, not by choice, not by whoever writes", async () => {
    await recallSoda();
    const use = { needs: [{ supplyId: soda.supplyId, amount: 1000 }], usedFor: { runId: soda.runId } };
    await database.db.transaction(async (transaction) => {
      await useUp(transaction, wren, { ...use, day: "2027-03-01", chosenLots: [soda.supplyLotId] });
    });
    const [last] =
      await database.sql`select lot_id, amount::integer from supply_moves order by id desc limit 1`;
    expect(last).toEqual({ lot_id: null, amount: -1000 });
    const { runId, supplyId, supplyLotId } = soda;
    const chosen = await wren.do(chooseLot, { runId, supplyId, lotId: supplyLotId });
    expect(chosen).toEqual({ ok: false, refusal: "lot-recalled" });
    await expect(
      database.sql`insert into supply_moves (supply_id, lot_id, kind, amount, run_id, at)
        values (${supplyId}, ${supplyLotId}, 'used', -1, ${runId}, now())`,
    ).rejects.toMatchObject({ constraint_name: "supply_moves_not_of_recalled_lots" });
  });

  it("never meets halfway whoever weighs it out: one of the two waits and sees what the other did", async () => {
    const { supplyId, supplyLotId, runId } = soda;
    const use = { needs: [{ supplyId, amount: 1000 }], usedFor: { runId }, day: "2027-03-01" };
    const takenOfIt = sql`select 1 from supply_moves where lot_id = ${supplyLotId} and amount = -1000`;
    const recallsOfIt = sql`select 1 from recalls where supply_lot_id = ${supplyLotId}`;
    const [recallSees, useSees] = await overlapping(
      database.sql,
      (gate) => gate`select 1 from supplies where id = ${supplyId} for update`,
      [
        () =>
          database.db.transaction(async (transaction) => {
            await beginRecall(transaction, wren, {
              kind: "supply-lot",
              id: supplyLotId,
              reason: "metal found",
            });
            return (await transaction.execute(takenOfIt)).length;
          }),
        () =>
          database.db.transaction(async (transaction) => {
            await useUp(transaction, wren, use);
            return (await transaction.execute(recallsOfIt)).length;
          }),
      ],
    );
    // Whichever came second saw the other: taken before the recall, which knows it, or after it and of no lot.
    expect([recallSees, useSees]).toEqual(recallSees === 1 ? [1, 0] : [0, 1]);
    expect((await database.db.execute(takenOfIt)).length).toBe(recallSees);
    const lot = await database.db.transaction((transaction) => lockSupply(transaction, supplyId));
    expect(lot?.lots.map(({ recalled }) => recalled)).toEqual([true]);
  });
});

describe("a recalled lot of packaging", () => {
  /** Cartons SCART around the 12 pieces of W-104 that left and around the 5 in its box; SFRSH has not been begun. */
  beforeEach(async () => {
    const { db, sql } = database;
    const cartons = await insertSupply(db, { name: "Kraft carton", kind: "box" });
    await insertPackingPart(db, { productId: soda.productId, supplyId: cartons });
    const lotId = await insertLot(db, { supplyId: cartons, code: "SCART", amount: 100 });
    await insertLot(db, { supplyId: cartons, code: "SFRSH", amount: 100 });
    await sql`insert into supply_moves (supply_id, lot_id, kind, amount, order_line_id, at) values
      (${cartons}, ${lotId}, 'used', -12, ${soda.lineId}, '2027-03-01T11:00:00Z'),
      (${cartons}, ${lotId}, 'used', -5, ${soda.lineId}, '2027-03-01T13:00:00Z')`;
  });

  it("holds back what stands packed in it until that is packed anew, and tells those whose pieces left in it", async () => {
    const recallId = await recallCartons();
    const recall = await findRecall(database.db, recallId);
    expect(recall?.recipients.map(({ customer, unitsThere }) => [customer, unitsThere])).toEqual([
      ["The Lamplit Otter", 12],
    ]);
    expect(recall?.around.map(({ reference, here }) => [reference, here])).toEqual([["W-104", 5]]);
    const why = "Cedar ball is packed in SCART, Kraft carton, which is recalled: the print rubs off.";
    expect(await ship()).toMatch(why);
    await expect(
      database.sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
        values (${soda.deliveryId}, ${soda.lineId}, ${soda.lotId}, 1)`,
    ).rejects.toMatchObject({ constraint_name: "delivery_lines_not_in_recalled_packaging" });
    const line = { orderLineId: soda.lineId, lotId: soda.lotId };
    expect((await wren.do(unpackPieces, { ...line, units: 5 }, LATER)).ok).toBe(true);
    const packed = { orderLineId: soda.lineId, takes: [{ lotId: soda.lotId, units: 5 }] };
    expect((await wren.do(packPieces, packed, LATER)).ok).toBe(true);
    expect((await findRecall(database.db, recallId))?.around).toEqual([]);
    expect(await ship()).toBe("left");
    expect((await onHand(database)).SFRSH).toBe(95);
    // What left in other cartons tells nobody more.
    expect((await findRecall(database.db, recallId))?.recipients[0]?.unitsThere).toBe(12);
  });

  it("lets go what stands packed in it once it is over, and is not done while something does", async () => {
    const recallId = await recallCartons();
    await wren.do(recordNotice, { recallId, customerId: soda.otter, how: "phone", said: "", unitsBack: 0 });
    await database.sql`insert into supply_moves (supply_id, lot_id, kind, amount, at)
      select supply_id, id, 'counted', -83, now() from supply_lots where code = 'SCART'`;
    expect((await listUnfinishedRecalls(database.db)).map(({ id }) => id)).toEqual([recallId]);
    await wren.do(endRecall, { recallId, note: "another print" });
    expect(await ship()).toBe("left");
  });

  it("never meets halfway what leaves in it at the same moment: one of the two waits and sees what the other did", async () => {
    const cartons = await cartonLot();
    const outcomes = await overlapping<unknown>(
      database.sql,
      (gate) => gate`select 1 from supplies where id = ${cartons.supplyId} for update`,
      [
        () => database.db.transaction((transaction) => beginRecall(transaction, wren, cartons.recall)),
        () =>
          database.db.transaction((transaction) =>
            shipOrder(
              transaction,
              { ...wren, at: LATER },
              { orderId: soda.orderId, how: "parcel", parcels: [] },
            ),
          ),
      ],
    );
    expect(outcomes[0]).toMatchObject({ ok: true });
    const [recall] = await listRecalls(database.db);
    const here = recall?.around.reduce((sum, part) => sum + part.here, 0);
    const left = (outcomes[1] as { readonly ok: boolean }).ok;
    // Left before it was recalled, and told; or recalled first, and here.
    expect([here, recall?.recipients[0]?.unitsThere]).toEqual(left ? [0, 17] : [5, 12]);
  });
});

describe("a recalled lot of pieces", () => {
  it("is never packed by who packs at the same moment and comes later", async () => {
    const outcomes = await overlapping<unknown>(
      database.sql,
      (gate) => gate`select 1 from lots where id = ${soda.lotId} for update`,
      [
        () =>
          database.db.transaction((transaction) =>
            beginRecall(transaction, wren, { kind: "lot", id: soda.lotId, reason: "metal found" }),
          ),
        () =>
          database.db.transaction((transaction) =>
            packPieces(transaction, wren, {
              orderLineId: soda.lineId,
              takes: [{ lotId: soda.lotId, units: 3 }],
            }),
          ),
      ],
    );
    expect(outcomes[0]).toMatchObject({ ok: true });
    const [last] = await database.sql`select subject from changes where what in ('packed into', 'begun')
      order by id desc limit 1`;
    expect(last?.subject).toBe("recall");
    expect(await ship()).toMatch(/^Lot K7Q is recalled: metal found\./);
  });

  it("is recalled once at a time, and only when something of it was made", async () => {
    const begin = (id: number) => wren.do(beginRecall, { kind: "lot", id, reason: "metal found" });
    expect((await begin(soda.lotId)).ok).toBe(true);
    const again = await begin(soda.lotId);
    expect(again.ok ? "" : recallRefusalWords(again.refusal)).toBe("K7Q is recalled already.");
    expect(await begin(soda.mixingLotId)).toMatchObject({ refusal: { why: "no-such-lot" } });
  });
});

describe("whom to tell", () => {
  it("is everybody something left to, shops with their contact and markets with their date, less what came home", async () => {
    const recall = await findRecall(database.db, await recallSoda());
    const told = recall?.recipients.map(({ customer, contact, address, got }) => ({
      ...{ customer, contact, address },
      got: got.map(({ reference, code, units, heldOn }) => [reference, code, units, heldOn]),
    }));
    expect(told).toEqual([
      {
        ...{ customer: "The Lamplit Otter", contact: "Odile Marsh, =555 0101", address: "3 Wick Lane" },
        got: [["W-104", "K7Q", 12, null]],
      },
      {
        ...{ customer: "Walrus Green", contact: "", address: "" },
        got: [["M-101", "K7Q", 12, "2027-03-06"]],
      },
    ]);
    // 31 on the shelf and 5 in the box; 380 g of the soda.
    expect([recall?.toTell, recall?.unitsHere, recall?.amountHere]).toEqual([2, 36, 380_000]);
    expect(recall?.boxes).toEqual([{ orderId: soda.orderId, reference: "W-104", units: 5, code: "K7Q" }]);
  });

  it("keeps who was told when, how and by whom, what they said and sent back, and is done when nothing is left", async () => {
    const recallId = await recallSoda();
    const tell = (customerId: number, unitsBack = 0) =>
      wren.do(recordNotice, { recallId, customerId, how: "phone", said: "they set them apart", unitsBack });
    await tell(soda.otter);
    await tell(soda.otter, 9);
    const recall = await findRecall(database.db, recallId);
    const [otter] = recall?.recipients ?? [];
    expect(otter?.notices.map(({ how, said, unitsBack, person }) => [how, said, unitsBack, person])).toEqual([
      ["phone", "they set them apart", 0, "Wren"],
      ["phone", "they set them apart", 9, "Wren"],
    ]);
    expect([recall?.toTell, otter?.unitsThere]).toEqual([1, 3]);
    await expect(database.sql`update recall_notices set said = ''`).rejects.toMatchObject({
      constraint_name: "recall_notices_written_once",
    });
    await tell(soda.green);
    expect((await listUnfinishedRecalls(database.db)).length).toBe(1);
    const { sql } = database;
    await sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${soda.lotId}, 'unpacked', 5, ${soda.lineId}, now())`;
    await sql`insert into moves (lot_id, kind, units, at) values (${soda.lotId}, 'counted', -36, now())`;
    await sql`insert into supply_moves (supply_id, lot_id, kind, amount, at)
      values (${soda.supplyId}, ${soda.supplyLotId}, 'counted', -380000, now())`;
    expect(await listUnfinishedRecalls(database.db)).toEqual([]);
  });
});

async function cartonLot() {
  const [lot] = await database.sql`select id, supply_id from supply_lots where code = 'SCART'`;
  const recall = { kind: "supply-lot", id: Number(lot?.id), reason: "the print rubs off" } as const;
  return { supplyId: Number(lot?.supply_id), recall };
}

async function recallCartons(): Promise<number> {
  const begun = await wren.do(beginRecall, (await cartonLot()).recall);
  if (!begun.ok) throw new Error(recallRefusalWords(begun.refusal));
  return begun.value.recallId;
}

async function recallSoda(): Promise<number> {
  const begun = await wren.do(beginRecall, {
    kind: "supply-lot",
    id: soda.supplyLotId,
    reason: "metal found",
  });
  if (!begun.ok) throw new Error(recallRefusalWords(begun.refusal));
  return begun.value.recallId;
}

async function stopped(): Promise<readonly string[]> {
  const rows = await database.sql<{ code: string }[]>`
    select lots.code from lot_stops join lots on lots.id = lot_id order by lots.code`;
  return rows.map(({ code }) => code);
}

async function pack(): Promise<string> {
  const takes = [{ lotId: soda.lotId, units: 3 }];
  const packed = await wren.do(packPieces, { orderLineId: soda.lineId, takes });
  return packed.ok ? "packed" : packingRefusalWords(packed.refusal);
}

async function ship(): Promise<string> {
  const left = await wren.do(shipOrder, { orderId: soda.orderId, how: "parcel", parcels: [] }, LATER);
  return left.ok ? "left" : deliveryRefusalWords(left.refusal);
}
