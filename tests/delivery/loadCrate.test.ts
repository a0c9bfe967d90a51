import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { packPieces } from "../../server/packing/packPieces.ts";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertCustomer, insertOrder, insertProduct, insertReadyLot } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { emptyWorkroom, firstOf, newPacker, openWorkroom, type Packer } from "../packing/workroom.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let fig: Visitor;
let hands: Packer;
let orderId: number;
let line: number;
let first: number;
let second: number;

beforeAll(async () => {
  ({ owner, fig } = await openWorkroom(application));
  hands = await newPacker(database, "Hands");
});

/** M-7 with ten pieces of AAA and two of BBB in its crate. */
beforeEach(async () => {
  await emptyWorkroom(database);
  const productId = await insertProduct(database.db, { name: "Cedar ball" });
  first = await insertReadyLot(database.db, { productId, units: 20, code: "AAA" });
  second = await insertReadyLot(database.db, { productId, units: 20, code: "BBB" });
  const customerId = await insertCustomer(database.db, { name: "Quayside", kind: "market" });
  const lines = [{ productId, units: 20 }];
  const order = await insertOrder(database.db, { customerId, reference: "M-7", terms: "market", lines });
  ({ orderId } = order);
  line = firstOf(order.lineIds);
  await pack(first, 10);
  await pack(second, 2);
});

describe("loading a market's crate", () => {
  it("is ticked lot by lot, says who and when, and says when all of it is loaded", async () => {
    expect(await heading()).toBe("0 of 12 pieces of M-7 are loaded.");
    expect((await act("loading", first, 10)).statusCode).toBe(303);
    expect(await heading()).toBe("10 of 12 pieces of M-7 are loaded.");
    expect(await page()).toContain("10 pieces Cedar ball, lot AAA loaded Fig Underhill, Mon 1 Mar 08:00");
    await act("loading", second, 2);
    expect(await heading()).toBe("All of M-7 is loaded: 12 pieces.");
    expect(await page()).toContain("Home again: count what came back");
  });

  it("is taken back, and the history tells both", async () => {
    await act("loading", first, 10);
    expect((await act("unloading", first, 10)).statusCode).toBe(303);
    expect(await heading()).toBe("0 of 12 pieces of M-7 are loaded.");
    expect((await act("unloading", first, 10)).statusCode).toBe(409);
    const history = await database.sql`select what from changes where subject_id = ${orderId}
      and what in ('loaded into the car', 'not loaded after all') order by id`;
    expect(history.map(({ what }) => what)).toEqual(["loaded into the car", "not loaded after all"]);
    const told = textOf((await owner.get(`/orders/${orderId}`)).body);
    expect(told).toContain("loaded into the car: 10 pieces of AAA");
    expect(told).toContain("not loaded after all: 10 pieces of AAA");
  });

  it("is looked at again when more was packed since, before and after the tick", async () => {
    await act("loading", first, 10);
    await pack(first, 3);
    expect(await heading()).toBe("0 of 15 pieces of M-7 are loaded.");
    expect(await page()).toContain("10 were loaded, look again");
    const stale = await act("loading", first, 10);
    expect([stale.statusCode, textOf(stale.body)]).toEqual([
      409,
      expect.stringContaining("changed meanwhile"),
    ]);
    await act("loading", first, 13);
    expect(await heading()).toBe("13 of 15 pieces of M-7 are loaded.");
  });

  it("knows no crate of an order that is for no market", async () => {
    await database.sql`update orders set terms = 'complete' where id = ${orderId}`;
    expect((await fig.get(`/delivery/crates/${orderId}`)).statusCode).toBe(404);
    expect((await act("loading", first, 10, "/delivery")).statusCode).toBe(404);
  });
});

async function pack(lotId: number, units: number): Promise<void> {
  const packed = await hands.do(packPieces, { orderLineId: line, takes: [{ lotId, units }] });
  expect(packed.ok).toBe(true);
}

function act(
  what: "loading" | "unloading",
  lot: number,
  units: number,
  from = `/delivery/crates/${orderId}`,
) {
  const fields = { line: String(line), lot: String(lot), units: String(units) };
  return fig.post(`/delivery/crates/${orderId}/${what}`, fields, { from });
}

async function page(): Promise<string> {
  return textOf((await fig.get(`/delivery/crates/${orderId}`)).body);
}

async function heading(): Promise<string> {
  return headingOf((await fig.get(`/delivery/crates/${orderId}`)).body);
}
