import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { inTransaction } from "../../db/transaction.ts";
import { callOffMarket } from "../../server/markets/callOffMarket.ts";
import { countMarket } from "../../server/markets/countMarket.ts";
import { recordLoss } from "../../server/shelf/recordLoss.ts";
import { insertCustomer, insertProduct, insertReadyLot, insertWorkshop } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyWorkroom, newPacker, onShelf, orderNow, type Packer } from "../packing/workroom.ts";
import { counted, countHome, EVENING, newMarket, seenNow, sendCrate } from "./stall.ts";

/* A crate of 20 cedar balls: 12 of the older lot, 8 of the newer. */
const database = useDatabase();
let wren: Packer;
let customerId: number;
let marketId: number;
let orderId: number;
let cedar: number;
let older: number;
let newer: number;

beforeAll(async () => {
  await insertWorkshop(database.db);
  wren = await newPacker(database, "Wren");
});

beforeEach(async () => {
  await emptyWorkroom(database);
  customerId = await insertCustomer(database.db, { name: "Quayside Saturday", kind: "market" });
  cedar = await insertProduct(database.db);
  const lot = { productId: cedar, units: 12 };
  older = await insertReadyLot(database.db, {
    ...lot,
    code: "OLD",
    readyAt: new Date("2027-02-20T08:00:00Z"),
  });
  newer = await insertReadyLot(database.db, {
    ...lot,
    code: "NEW",
    readyAt: new Date("2027-02-27T08:00:00Z"),
  });
  marketId = await newMarket(wren, { customerId });
  const lots = [
    { lotId: older, productId: cedar, units: 12 },
    { lotId: newer, productId: cedar, units: 8 },
  ];
  orderId = await sendCrate(database, wren, { customerId, marketId, lots });
});

const count = (homeUnits: number, more = {}) =>
  countHome(database, wren, { marketId, rows: [counted(cedar, homeUnits, more)] });
const shelf = async () => [await onShelf(database, older), await onShelf(database, newer)];

describe("what comes home from a market", () => {
  it("goes back to the lots it came from, the newest first, and the crate has arrived", async () => {
    expect(await shelf()).toEqual([0, 4]);
    expect(await count(10)).toBe("counted");
    expect(await shelf()).toEqual([2, 12]);
    expect(await orderNow(database, orderId)).toMatchObject({ state: "delivered" });
  });

  it("is written down with what was taken, which the delivery says and not the form", async () => {
    await count(3, { takenUnits: 999, givenAwayUnits: 2 });
    expect(await counts()).toEqual(["taken 20, home 3, given away 2, sold out never"]);
  });

  it("can be nothing, with the time at which the last one went", async () => {
    await count(0, { soldOutMinute: 690 });
    expect(await counts()).toEqual(["taken 20, home 0, given away 0, sold out 690"]);
    expect(await shelf()).toEqual([0, 4]);
  });

  it("is never more than left", async () => {
    expect(await count(21)).toBe("more-than-taken");
    expect(await count(20, { givenAwayUnits: 1 })).toBe("more-than-taken");
    expect(await count(20)).toBe("counted");
  });

  it("is not counted without every product that left, nor before the market's day", async () => {
    expect(await countHome(database, wren, { marketId, rows: [] })).toBe("counted-meanwhile");
    const early = await wren.do(countMarket, {
      marketId,
      rows: [counted(cedar, 1)],
      seen: await seenNow(database, marketId),
    });
    expect(early).toEqual({ ok: false, refusal: { why: "not-over" } });
  });

  it("is not counted before the crate has left", async () => {
    const lots = [{ lotId: newer, productId: cedar, units: 2 }];
    const next = await newMarket(wren, { customerId, heldOn: "2027-03-05" });
    await sendCrate(database, wren, { customerId, marketId: next, lots });
    await database.sql`update markets set order_id = null where id = ${next}`;
    await database.sql`insert into orders (reference, customer_id, terms, ship_by, weight, state, created_at)
      values ('M-900', ${customerId}, 'market', '2027-03-05', 1, 'draft', now())`;
    await database.sql`update markets set order_id = (select id from orders where reference = 'M-900') where id = ${next}`;
    expect(await countHome(database, wren, { marketId: next, rows: [counted(cedar, 1)] })).toBe(
      "crate-not-left",
    );
  });

  it("is believed as it was typed where there was no crate list, and moves nothing", async () => {
    const past = await newMarket(wren, { customerId, heldOn: "2027-02-27" });
    const rows = [counted(cedar, 4, { takenUnits: 18 })];
    expect(await countHome(database, wren, { marketId: past, rows })).toBe("counted");
    expect(await shelf()).toEqual([0, 4]);
    expect(await counts(past)).toEqual(["taken 18, home 4, given away 0, sold out never"]);
  });
});

describe("a count that is corrected", () => {
  it("takes out of the oldest lot what did not come home, and brings back what did, with a history of both", async () => {
    await count(10);
    expect(await count(7)).toBe("counted");
    // Two go out of the older lot, where two had come back, and one out of the newer.
    expect(await shelf()).toEqual([0, 11]);
    expect(await count(20)).toBe("counted");
    expect(await shelf()).toEqual([12, 12]);
    const history = await database.sql`select what, before, after from changes
      where subject = 'market' and subject_id = ${marketId} and what like 'counted%' order by id`;
    expect(history.map(({ what }) => what)).toEqual(["counted", "counted again", "counted again"]);
    expect(history[1]?.before[0].homeUnits).toBe(10);
    expect(history[1]?.after[0].homeUnits).toBe(7);
  });

  it("is refused when the pieces have gone from the shelf since, and says how many are there", async () => {
    await count(10);
    for (const [lotId, units] of [
      [newer, 12],
      [older, 1],
    ] as const)
      await wren.do(recordLoss, { lotId, units, cause: "cracked", note: "" });
    const seen = await seenNow(database, marketId);
    const outcome = await wren.do(countMarket, { marketId, rows: [counted(cedar, 8)], seen }, EVENING);
    expect(outcome).toEqual({ ok: false, refusal: { why: "gone-from-shelf", productId: cedar, units: 1 } });
    expect(await shelf()).toEqual([1, 0]);
  });
});

describe("two who count the same market at once", () => {
  const together = async (mine: number, hers: number) => {
    const seen = await seenNow(database, marketId);
    const send = (homeUnits: number) => () =>
      inTransaction(database.db, (transaction) =>
        countMarket(
          transaction,
          { personId: wren.personId, at: EVENING },
          { marketId, rows: [counted(cedar, homeUnits)], seen },
        ),
      );
    const outcomes = await overlapping(
      database.sql,
      (gate) => gate`select 1 from markets where id = ${marketId} for update`,
      [send(mine), send(hers)],
    );
    return outcomes.map((outcome) => (outcome.ok ? "counted" : outcome.refusal.why)).toSorted();
  };

  it("bring home once what both counted alike", async () => {
    expect(await together(10, 10)).toEqual(["counted", "counted"]);
    expect(await shelf()).toEqual([2, 12]);
    const [written] = await database.sql`select count(*)::integer as times from changes
      where subject = 'market' and what like 'counted%' and subject_id = ${marketId}`;
    expect(written?.times).toBe(1);
  });

  it("do not write one over the other where they counted differently", async () => {
    expect(await together(10, 6)).toEqual(["counted", "counted-meanwhile"]);
    const [back] = await database.sql`select sum(units)::integer as units from moves where kind = 'returned'`;
    expect([6, 10]).toContain(back?.units);
  });
});

describe("a market that is called off", () => {
  it("is not called off once its crate has left, nor once it is counted", async () => {
    expect(await wren.do(callOffMarket, { marketId })).toMatchObject({ refusal: { why: "crate-left" } });
    await count(3);
    expect(await wren.do(callOffMarket, { marketId })).toMatchObject({ refusal: { why: "counted" } });
  });

  it("is not counted", async () => {
    const next = await newMarket(wren, { customerId, heldOn: "2027-03-05" });
    await wren.do(callOffMarket, { marketId: next });
    const rows = [counted(cedar, 1, { takenUnits: 2 })];
    expect(await countHome(database, wren, { marketId: next, rows })).toBe("called-off");
  });
});

/** What is written down of a market, product by product. */
async function counts(of = marketId): Promise<readonly string[]> {
  const rows = await database.sql<{ words: string }[]>`
    select 'taken ' || taken_units || ', home ' || home_units || ', given away ' || given_away_units
      || ', sold out ' || coalesce(sold_out_minute::text, 'never') as words
    from market_counts where market_id = ${of} order by product_id`;
  return rows.map(({ words }) => words);
}
