import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { inTransaction } from "../../db/transaction.ts";
import { cancelOrder } from "../../server/orders/cancelOrder.ts";
import { furnish } from "../benchroom/benchRoom.ts";
import { firstOwner, newHelper, useApplication } from "../build/application.ts";
import { textOf } from "../build/pageText.ts";
import { insertCustomer, insertOrder, insertReadyLot, insertRun, insertWorkshop } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { overlapping } from "../db/overlapping.ts";
import {
  emptyStoreroom,
  insertLot,
  insertPackingPart,
  insertRecipe,
  insertSupply,
  ledger,
  onHand,
} from "./storeroom.ts";

const application = useApplication();
let helper: Visitor;
let room: Awaited<ReturnType<typeof furnish>>;
let soda: number;
let acid: number;

beforeAll(async () => {
  const owner = await firstOwner(application);
  await insertWorkshop(application.database.db);
  helper = await newHelper(application, owner);
});

/** The planned run takes 30 x 118 g and 24 x 60 g, 4 980 g of mix: two thirds soda, a third acid, to the milligram. */
beforeEach(async () => {
  const { database, clock } = application;
  await emptyStoreroom(database);
  clock.set("2027-03-01T09:10:00Z");
  room = await furnish(database.db);
  soda = await insertSupply(database.db, { name: "Soda" });
  acid = await insertSupply(database.db, { name: "Acid", kind: "acid" });
  await insertRecipe(database.db, room.blendId, { [soda]: 666_667, [acid]: 333_333 });
});

const start = (runId = room.runId) => helper.post(`/bench/runs/${runId}/start`, {}, { from: "/bench" });
const putBack = (runId = room.runId) => helper.post(`/bench/runs/${runId}/put-back`, {}, { from: "/bench" });
const count = async (supplyId: number, grams: Readonly<Record<number, string>>) => {
  const [row] = await application.database.sql`
    select coalesce(max(id), 0)::integer as last from supply_moves where supply_id = ${supplyId}`;
  return helper.post(`/supplies/${supplyId}/count`, {
    lastMove: String(row?.last),
    countedLot: Object.keys(grams),
    countedAmount: Object.values(grams),
    countNote: "",
  });
};

describe("a run that is started", () => {
  it("takes what its recipe says of its mix from the lot that expires first", async () => {
    const { db } = application.database;
    await insertLot(db, { supplyId: soda, code: "SLATE", amount: 9_000_000, expiresOn: "2027-09-01" });
    await insertLot(db, { supplyId: soda, code: "SAAA1", amount: 1_000_000, expiresOn: "2027-04-01" });
    await insertLot(db, { supplyId: acid, code: "SACID", amount: 5_000_000 });
    expect((await start()).statusCode).toBe(303);
    // 4 980 g x 0.666 667 = 3 320.001 66 g; x 0.333 333 = 1 659.998 34 g: to the milligram they are 4 980 g again.
    expect(await onHand(application.database)).toEqual({
      SAAA1: 0,
      SACID: 5_000_000 - 1_659_998,
      SLATE: 9_000_000 - (3_320_002 - 1_000_000),
    });
  });

  it("is never held up by what the ledger lacks: it is booked beyond, and said out loud", async () => {
    const { database } = application;
    await insertLot(database.db, { supplyId: soda, code: "SAAA1", amount: 1_000_000 });
    expect((await start()).statusCode).toBe(303);
    expect(await onHand(database)).toEqual({
      SAAA1: 0,
      "beyond Acid": -1_659_998,
      "beyond Soda": -2_320_002,
    });
    expect(textOf((await helper.get("/bench")).body)).toContain("It took more than the ledger had. Go on;");
    const page = textOf((await helper.get("/supplies")).body);
    expect(page).toContain("count Soda and Acid: more was used than the ledger had");
    expect(textOf((await helper.get(`/supplies/${soda}`)).body)).toContain(
      "2 320.002 g were used beyond what the ledger had.",
    );
    expect(textOf((await helper.get(`/supplies/runs/${room.runId}`)).body)).toContain(
      "the ledger had too little of",
    );
  });

  it("takes nothing that is past its last good day by itself", async () => {
    const { database } = application;
    await insertLot(database.db, {
      supplyId: acid,
      code: "SPAST",
      amount: 5_000_000,
      expiresOn: "2027-02-28",
    });
    await start();
    expect(await onHand(database)).toMatchObject({ SPAST: 5_000_000, "beyond Acid": -1_659_998 });
  });

  it("books nothing of what nobody keeps count of", async () => {
    const { database } = application;
    await database.sql`update supplies set counted = false`;
    await start();
    expect(await ledger(database)).toEqual([]);
  });

  it("gives everything back when its start was a mistake", async () => {
    const { database } = application;
    await insertLot(database.db, { supplyId: soda, code: "SAAA1", amount: 1_000_000 });
    await start();
    expect((await putBack()).statusCode).toBe(303);
    expect(await onHand(database)).toEqual({ SAAA1: 1_000_000 });
    await start();
    expect(await onHand(database)).toMatchObject({ SAAA1: 0, "beyond Soda": -2_320_002 });
  });

  it("shares the last of a lot with another that starts at the same moment: nothing is taken twice", async () => {
    const { database } = application;
    const { runId } = await insertRun(database.db, {
      ...{ planId: room.planId, blendId: room.blendId, sessionStartsAt: new Date("2027-03-01T08:00:00Z") },
      lots: [{ productId: room.ball, units: 10, code: "TENB" }],
    });
    await insertLot(database.db, { supplyId: soda, code: "SAAA1", amount: 3_500_000 });
    await insertLot(database.db, { supplyId: acid, code: "SACID", amount: 9_000_000 });
    const answers = await overlapping(
      database.sql,
      (gate) => gate`select 1 from supplies where id = ${soda} for update`,
      [() => start(), () => start(runId)],
    );
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([303, 303]);
    // The other takes 1 180 g x 0.666 667 = 786.667 g.
    expect(await onHand(database)).toMatchObject({
      SAAA1: 0,
      "beyond Soda": -(3_320_002 + 786_667 - 3_500_000),
    });
  });
});

describe("a lot the maker chose instead", () => {
  it("is what the run took, and the other has everything again", async () => {
    const { database } = application;
    await insertLot(database.db, {
      supplyId: acid,
      code: "SFST1",
      amount: 5_000_000,
      expiresOn: "2027-04-01",
    });
    const other = await insertLot(database.db, {
      ...{ supplyId: acid, code: "SPAST", amount: 1_000_000, expiresOn: "2027-02-01" },
    });
    await start();
    const chosen = await helper.post(
      `/supplies/runs/${room.runId}/lots`,
      { supply: String(acid), lot: String(other) },
      { from: "/bench" },
    );
    expect(chosen.statusCode).toBe(303);
    expect(await onHand(database)).toMatchObject({ SFST1: 5_000_000 - 659_998, SPAST: 0 });
    expect(textOf((await helper.get(`/supplies/runs/${room.runId}`)).body)).toMatch(
      /SFST1 659\.998 g.*SPAST 1 kg/,
    );
  });

  it("is refused once it was counted: what each lot has is known since then", async () => {
    const { database } = application;
    const first = await insertLot(database.db, { supplyId: acid, code: "SFST1", amount: 5_000_000 });
    const other = await insertLot(database.db, { supplyId: acid, code: "SOTHR", amount: 5_000_000 });
    await start();
    expect((await count(acid, { [first]: "3340", [other]: "5000" })).statusCode).toBe(303);
    const chosen = await helper.post(
      `/supplies/runs/${room.runId}/lots`,
      { supply: String(acid), lot: String(other) },
      { from: "/bench" },
    );
    expect(chosen.statusCode).toBe(409);
    expect(chosen.body).toContain("It was counted since it was weighed out");
    expect(await onHand(database)).toMatchObject({ SFST1: 3_340_000, SOTHR: 5_000_000 });
  });
});

describe("a count", () => {
  it("settles what was used beyond the ledger, and stands when the run is put back after it", async () => {
    const { database } = application;
    const lot = await insertLot(database.db, { supplyId: soda, code: "SAAA1", amount: 1_000_000 });
    await start();
    expect((await count(soda, { [lot]: "12500" })).statusCode).toBe(303);
    expect(await onHand(database)).toMatchObject({ SAAA1: 12_500_000 });
    expect(await onHand(database)).not.toHaveProperty("beyond Soda");
    await putBack();
    expect(await onHand(database)).toMatchObject({ SAAA1: 12_500_000 });
    expect(await onHand(database)).not.toHaveProperty("beyond Soda");
    const [left] = await database.sql`select sum(amount)::integer as used from supply_moves
      where run_id = ${room.runId} and kind in ('used', 'unused')`;
    expect(left?.used).toBe(0);
  });
});

describe("packing", () => {
  it("takes what the packing list says, a box for a begun dozen once, and gives it back with the pieces", async () => {
    const { database } = application;
    const cup = await insertSupply(database.db, { name: "Cup", kind: "cup" });
    const box = await insertSupply(database.db, { name: "Box", kind: "box" });
    await insertLot(database.db, { supplyId: cup, code: "SCUPS", amount: 20 });
    await insertLot(database.db, { supplyId: box, code: "SBOXS", amount: 5 });
    await insertPackingPart(database.db, { productId: room.ball, supplyId: cup });
    await insertPackingPart(database.db, { productId: room.ball, supplyId: box, forPieces: 12 });
    const customerId = await insertCustomer(database.db);
    const lines = [{ productId: room.ball, units: 30 }];
    const { orderId, lineIds } = await insertOrder(database.db, { customerId, lines });
    const lotId = await insertReadyLot(database.db, { productId: room.ball, units: 30 });
    const line = `/packing/${orderId}/lines/${lineIds[0]}`;
    const pack = (units: number) =>
      helper.post(
        `${line}/pieces`,
        { lot: String(lotId), units: String(units), last_move: "999999" },
        { from: `/packing/${orderId}` },
      );
    expect((await pack(5)).statusCode).toBe(303);
    expect(await onHand(database)).toMatchObject({ SCUPS: 15, SBOXS: 4 });
    await pack(7);
    expect(await onHand(database)).toMatchObject({ SCUPS: 8, SBOXS: 4 });
    await pack(13);
    expect(await onHand(database)).toMatchObject({ SCUPS: 0, SBOXS: 2, "beyond Cup": -5 });
    const unpacked = await helper.post(
      `${line}/lots/${lotId}/unpacking`,
      { units: "7" },
      { from: `/packing/${orderId}` },
    );
    expect(unpacked.statusCode).toBe(303);
    expect(await onHand(database)).toMatchObject({ SCUPS: 2, SBOXS: 3 });
    expect(await onHand(database)).not.toHaveProperty("beyond Cup");
    const cancelled = await inTransaction(database.db, (transaction) =>
      cancelOrder(transaction, { personId: 1, at: new Date("2027-03-01T10:00:00Z") }, { orderId }),
    );
    expect(cancelled.ok).toBe(true);
    expect(await onHand(database)).toMatchObject({ SCUPS: 20, SBOXS: 5 });
  });
});
