import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { furnish } from "../benchroom/benchRoom.ts";
import { firstOwner, newHelper, useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertBlend, insertCustomer, insertOrder, insertWorkshop } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { mistakeBeside } from "../workshop/setupRoom.ts";
import {
  emptyStoreroom,
  insertLot,
  insertPackingPart,
  insertRecipe,
  insertSupplier,
  insertSupply,
} from "./storeroom.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let helper: Visitor;
let room: Awaited<ReturnType<typeof furnish>>;
let soda: number;
let acid: number;
let cup: number;

beforeAll(async () => {
  owner = await firstOwner(application);
  await insertWorkshop(database.db);
  helper = await newHelper(application, owner);
});

/** Monday: a run of 4 980 g is planned, a half soda, a half acid; soda lasts, acid comes in bags of a kilogram. */
beforeEach(async () => {
  const { db, sql } = database;
  await emptyStoreroom(database);
  application.clock.set("2027-03-01T08:00:00Z");
  room = await furnish(db);
  soda = await insertSupply(db, { name: "Soda" });
  acid = await insertSupply(db, { name: "Acid", kind: "acid", coverDays: 1 });
  cup = await insertSupply(db, { name: "Cup", kind: "cup" });
  await insertRecipe(db, room.blendId, { [soda]: 500_000, [acid]: 500_000 });
  await insertPackingPart(db, { productId: room.ball, supplyId: cup });
  await insertLot(db, { supplyId: soda, code: "SODA1", amount: 9_000_000 });
  await insertLot(db, { supplyId: acid, code: "SACID", amount: 700_000, expiresOn: "2027-03-10" });
  await insertLot(db, { supplyId: cup, code: "SCUPS", amount: 10 });
  const supplierId = await insertSupplier(db, { deliveryDays: 3 });
  await sql`insert into supply_packs (supply_id, supplier_id, amount, thousandths, unit, price_minor, usual, code)
    values (${acid}, ${supplierId}, 1000000, 1000, 'kg', 499, true, 'CA-1')`;
  // The run is mixed on Friday, so that there is time to buy.
  await sql`update runs set session_date = '2027-03-05', session_starts_at = '2027-03-05T09:00Z',
    session_ends_at = '2027-03-05T13:00Z'`;
});

const list = async () => textOf((await owner.get("/supplies/to-buy")).body);
const csv = async () =>
  (await owner.get("/supplies/to-buy.csv")).body.replace("\uFEFF", "").trim().split("\r\n");

describe("what to buy", () => {
  it("is what the planned runs lack, in whole packs, by the day one has to order", async () => {
    // 2 490 g are needed and 700 g are there: two bags.
    const text = await list();
    expect(text).toContain("Order by Tuesday 2 March: 1 supply in all.");
    expect(text).toMatch(/Acid CA-1 2 × 1 kg Tue 2 Mar Fri 5 Mar for the run of Cedar amber €9\.98/);
    expect(await csv()).toEqual([
      "supplier,supply,their_code,packs,pack,pack_unit,amount,unit,needed_on,order_by,price,currency",
      "Tarn & Thimble Minerals,Acid,CA-1,2,1,kg,2000,g,2027-03-05,2027-03-02,9.98,EUR",
    ]);
  });

  it("counts confirmed orders that no plan makes yet, early enough to dry, and what they are packed with", async () => {
    const { db } = database;
    const customerId = await insertCustomer(db);
    // The planned run makes 30 balls; ten more are wanted, dry by Tuesday the 9th: mixed a day before.
    await insertOrder(db, {
      ...{ customerId, shipBy: "2027-03-09", reference: "W-9" },
      lines: [{ productId: room.ball, units: 40 }],
    });
    const text = await list();
    // 1 180 g more on Monday the 8th are 590 g of acid, of which 210 g are left over.
    expect(text).toMatch(/Acid CA-1 1 × 1 kg Fri 5 Mar Mon 8 Mar for Cedar amber that no plan makes yet/);
    expect(text).toMatch(/Cup 30 pieces nobody sells it yet Tue 9 Mar to pack W-9/);
  });

  it("does not count on what is past its day by then, nor forgets what is on its way", async () => {
    await database.sql`update supply_lots set expires_on = '2027-03-04' where code = 'SACID'`;
    expect(await list()).toContain("3 × 1 kg");
    await database.sql`insert into purchases (supply_id, supplier_id, amount, ordered_on, due_on, state)
      values (${acid}, 1, 1000000, '2027-02-26', '2027-03-05', 'open')`;
    expect(await list()).toContain("2 × 1 kg");
    await database.sql`update purchases set due_on = '2027-03-06'`;
    expect(await list()).toContain("3 × 1 kg");
  });

  it("says that it comes too late, where it does", async () => {
    application.clock.set("2027-03-04T08:00:00Z");
    const text = await list();
    expect(text).toContain("Order 1 supply today; 1 comes too late even so.");
    expect(text).toContain("at once: it was Tue 2 Mar comes too late");
  });

  it("is on its way once it is ordered, and is received or called off from there", async () => {
    const order = (lines: string | readonly string[]) =>
      owner.post("/supplies/to-buy/1/orders", { lines }, { from: "/supplies/to-buy" });
    expect(mistakeBeside(await order([]), "lines")).toBe("Tick what you have ordered.");
    expect((await order("99x1")).statusCode).toBe(409);
    expect((await order("1x2")).statusCode).toBe(303);
    expect(headingOf((await owner.get("/supplies/to-buy")).body)).toBe(
      "Nothing has to be bought: what is there and on its way is enough.",
    );
    const form = (await owner.get(`/supplies/${acid}?purchase=1`)).body;
    expect(form).toMatch(/name="quantity"[^>]*value="2"/);
    expect(form).toMatch(/name="price"[^>]*value="9.98"/);
    const receipt = {
      ...{ quantity: "2", unit: "kg", supplier: "1", supplierLot: "", price: "9.98" },
      ...{ receivedOn: "2027-03-01", expiresOn: "", purchase: "1" },
    };
    expect((await owner.post(`/supplies/${acid}/receipts`, receipt)).statusCode).toBe(303);
    const again = await owner.post(`/supplies/${acid}/receipts`, receipt);
    expect([again.statusCode, mistakeBeside(again, "purchase") ?? "gone"]).toEqual([409, "gone"]);
    await order("1x1");
    expect(
      (await owner.post("/supplies/purchases/2/calling-off", {}, { from: "/supplies/to-buy" })).statusCode,
    ).toBe(303);
    expect(
      (await owner.post("/supplies/purchases/2/calling-off", {}, { from: "/supplies/to-buy" })).statusCode,
    ).toBe(409);
  });

  it("names blends of which nobody knows what goes into them", async () => {
    const blendId = await insertBlend(database.db, { code: "fog", name: "Juniper fog" });
    await database.sql`update runs set blend_id = ${blendId}`;
    expect(await list()).toContain("Nobody knows what goes into Juniper fog: write its recipe.");
  });

  it("is the owner's", async () => {
    expect((await helper.get("/supplies/to-buy")).statusCode).toBe(403);
    expect((await helper.get("/supplies/to-buy.csv")).statusCode).toBe(403);
  });
});
