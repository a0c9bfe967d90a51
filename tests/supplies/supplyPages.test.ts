import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, helperOf, ledTo, mistakeBeside, ownerInSetup } from "../workshop/setupRoom.ts";
import { emptyStoreroom, insertLot, insertSupplier, insertSupply, ledger, onHand } from "./storeroom.ts";

const application = useApplication();
const { database } = application;
let owner: Visitor;
let helper: Visitor;
let soda: number;
let supplier: number;

beforeAll(async () => {
  owner = await ownerInSetup(application);
  helper = await helperOf(application, owner);
});
beforeEach(async () => {
  await emptyStoreroom(database);
  soda = await insertSupply(database.db, { name: "Soda" });
  supplier = await insertSupplier(database.db);
});

const receipt = (given: Readonly<Record<string, string>> = {}) => ({
  ...{ quantity: "25", unit: "kg", supplier: String(supplier), supplierLot: "TT-1", price: "33,50" },
  ...{ receivedOn: "2027-03-01", expiresOn: "2027-12-31", purchase: "" },
  ...given,
});
const receive = (given: Readonly<Record<string, string>> = {}, who = owner, formToken = randomUUID()) =>
  who.post(`/supplies/${soda}/receipts`, receipt(given), { from: "/supplies/1", formToken });
const lots = () => database.sql`select supplier_lot, price_minor::integer as price, received_on::text as came,
  expires_on::text as good, code from supply_lots order by id`;

describe("receiving", () => {
  it("makes a lot with what came, from whom, what it cost and how long it is good", async () => {
    expect(ledTo(await receive())).toEqual([303, `/supplies/${soda}`]);
    const [lot] = await lots();
    expect(lot).toMatchObject({ supplier_lot: "TT-1", price: 3350, came: "2027-03-01", good: "2027-12-31" });
    expect(lot?.code).toMatch(/^S[34679ACDEFGHJKMNPQRTUVWXY]{4}$/);
    expect(await onHand(database)).toEqual({ [lot?.code]: 25_000_000 });
    const page = await owner.get(`/supplies/${soda}`);
    expect(headingOf(page.body)).toBe("Soda: 25 kg on hand in 1 lot.");
    expect(textOf(page.body)).toContain("from Tarn &amp; Thimble Minerals for €33.50; supplier's lot TT-1");
    expect(await changesOf(application, "supply lot")).toMatchObject([{ what: "received" }]);
  });

  it("takes every unit and pack, and none that says nothing", async () => {
    // 2 lb is 907.184 74 g exactly (NIST Handbook 44, Appendix C).
    await receive({ quantity: "2", unit: "lb" });
    const pack = {
      supplier: String(supplier),
      content: "25",
      unit: "kg",
      price: "",
      leastPacks: "",
      code: "",
    };
    await owner.post(`/setup/supplies/${soda}/packs`, pack);
    await receive({ quantity: "3", unit: "pack-1", supplier: "" });
    expect(Object.values(await onHand(database)).sort()).toEqual([75_000_000, 907_185]);
    const half = await receive({ quantity: "1.5", unit: "pack-1" });
    expect(mistakeBeside(half, "quantity")).toBe("Give a whole number of packs.");
    expect(mistakeBeside(await receive({ unit: "pack-99" }), "unit")).toContain("not this supplier");
    expect(mistakeBeside(await receive({ unit: "tsp" }), "unit")).toContain("No density has been entered");
    expect(mistakeBeside(await receive({ unit: "piece" }), "unit")).toContain("not counted in that unit");
    expect(await lots()).toHaveLength(2);
  });

  it("answers each mistake beside its field, keeps what was typed and changes nothing", async () => {
    const wrong = await receive({
      quantity: "lots",
      price: "much",
      receivedOn: "2027-02-30",
      expiresOn: "x",
    });
    expect(wrong.statusCode).toBe(422);
    expect(mistakeBeside(wrong, "quantity")).toContain("Give a number from 0.001");
    expect(mistakeBeside(wrong, "price")).toBe("Give an amount such as 4.50.");
    expect(mistakeBeside(wrong, "receivedOn")).toContain("Give a date of the calendar");
    expect(wrong.body).toContain('value="much"');
    expect(mistakeBeside(await receive({ receivedOn: "2027-03-02" }), "receivedOn")).toContain(
      "still to come",
    );
    expect(mistakeBeside(await receive({ expiresOn: "2027-02-28" }), "expiresOn")).toContain(
      "before it came",
    );
    expect(await lots()).toEqual([]);
  });

  it("happens once when the form is sent twice", async () => {
    const formToken = randomUUID();
    await receive({}, owner, formToken);
    await receive({}, owner, formToken);
    expect(await lots()).toHaveLength(1);
  });

  it("is a helper's work too, who neither sees nor says a price", async () => {
    await receive();
    await receive({ price: "1", quantity: "1" }, helper);
    expect((await lots()).map(({ price }) => price)).toEqual([3350, null]);
    const page = await helper.get(`/supplies/${soda}`);
    expect(page.body).not.toContain("33.50");
    expect(page.body).not.toContain('name="price"');
  });
});

describe("putting a received lot right", () => {
  const right = (given: Readonly<Record<string, string>> = {}, who = owner) =>
    who.post(
      "/supplies/lots/1/correction",
      {
        ...{ expiresOn: "2027-06-30", price: "35,00", why: "misread the bag", currency: "EUR" },
        ...{ seenExpiresOn: "2027-12-31", seenPrice: "33.50", ...given },
      },
      { from: "/supplies" },
    );
  beforeEach(() => receive());

  it("changes its last good day and its price, and says who did when, from what to what and why", async () => {
    expect(ledTo(await right())).toEqual([303, "/supplies/lots/1/correction"]);
    expect(await lots()).toMatchObject([{ good: "2027-06-30", price: 3500, came: "2027-03-01" }]);
    const page = await owner.get("/supplies/lots/1/correction");
    expect(textOf(page.body)).toContain(
      "last good day Fri 31 Dec → Wed 30 Jun; price €33.50 → €35.00: misread the bag Mon 1 Mar 08:00, Wren Oddfellow",
    );
    expect(await ledger(database)).toHaveLength(1);
    expect(await changesOf(application, "supply lot")).toMatchObject([
      { what: "received" },
      { what: "corrected", before: { expiresOn: "2027-12-31", priceMinor: 3350 } },
    ]);
  });

  it("may leave it without a last day and a price, and asks for a reason and a change", async () => {
    await right({ expiresOn: "", price: "" });
    expect(await lots()).toMatchObject([{ good: null, price: null }]);
    const seen = { seenExpiresOn: "", seenPrice: "" };
    expect((await right({ ...seen, expiresOn: "", price: "" })).body).toContain(
      "That is what it says already.",
    );
    expect(mistakeBeside(await right({ ...seen, why: " " }), "why")).toContain("Fill this in");
    expect(mistakeBeside(await right({ ...seen, expiresOn: "2027-02-28" }), "expiresOn")).toContain(
      "before it came",
    );
    expect(mistakeBeside(await right({ ...seen, price: "a lot" }), "price")).not.toBe("");
    expect(await lots()).toMatchObject([{ good: null, price: null }]);
  });

  it("undoes nothing that somebody else put right meanwhile, and is the owner's", async () => {
    await right();
    const late = await right({ price: "30" });
    expect([late.statusCode, textOf(late.body)]).toEqual([409, expect.stringContaining("since you opened")]);
    expect((await right({ seenExpiresOn: "2027-06-30", seenPrice: "35" }, helper)).statusCode).toBe(403);
    expect((await helper.get("/supplies/lots/1/correction")).statusCode).toBe(403);
    expect((await helper.get(`/supplies/${soda}`)).body).not.toContain("/correction");
    expect(await lots()).toMatchObject([{ good: "2027-06-30", price: 3500 }]);
    expect((await owner.get("/supplies/lots/99/correction")).statusCode).toBe(404);
  });
});

describe("counting", () => {
  const count = (fields: Readonly<Record<string, string | readonly string[]>>) =>
    helper.post(`/supplies/${soda}/count`, { countNote: "", ...fields }, { from: `/supplies/${soda}` });

  it("brings every lot to what is there, and writes down that it agrees where it does", async () => {
    const one = await insertLot(database.db, { supplyId: soda, code: "SAAA1", amount: 500_000 });
    const two = await insertLot(database.db, { supplyId: soda, code: "SAAA2", amount: 300_000 });
    const counted = await count({
      ...{ lastMove: "2", countedLot: [String(one), String(two)], countedAmount: ["480,5", "300"] },
      countNote: "weighed on the bench scale",
    });
    expect(counted.statusCode).toBe(303);
    expect(await ledger(database)).toEqual([
      "SAAA1 received 500000",
      "SAAA2 received 300000",
      "SAAA1 counted -19500",
      "SAAA2 counted 0",
    ]);
    const page = textOf((await helper.get(`/supplies/${soda}`)).body);
    expect(page).toContain("counted: it agrees");
    expect(page).toContain("weighed on the bench scale");
  });

  it("is of every lot, and void once something moved", async () => {
    const one = await insertLot(database.db, { supplyId: soda, code: "SAAA1", amount: 500_000 });
    const lot = [String(one)];
    const blank = await count({ lastMove: "1", countedLot: lot, countedAmount: [""] });
    expect([blank.statusCode, mistakeBeside(blank, "counts.0")]).toEqual([
      422,
      "Say how much is there, 0 for none: a count is of every lot.",
    ]);
    expect(
      mistakeBeside(await count({ lastMove: "1", countedLot: lot, countedAmount: ["-3"] }), "counts.0"),
    ).toContain("Give a number from 0");
    const late = await count({ lastMove: "0", countedLot: lot, countedAmount: ["400"] });
    expect(late.statusCode).toBe(409);
    expect(late.body).toContain("please count again");
    expect(late.body).toContain('value="400"');
    expect(await onHand(database)).toEqual({ SAAA1: 500_000 });
  });

  it("finds something of a lot that the ledger had used up", async () => {
    const one = await insertLot(database.db, { supplyId: soda, code: "SAAA1", amount: 500_000 });
    await count({ lastMove: "1", countedLot: [String(one)], countedAmount: ["0"] });
    expect((await helper.get(`/supplies/${soda}`)).body).not.toContain("Count it");
    await insertLot(database.db, { supplyId: soda, code: "SAAA2", amount: 100_000 });
    const lotIds = [String(one), String(one + 1)];
    await count({ lastMove: "3", countedLot: lotIds, countedAmount: ["20", "100"] });
    expect(await onHand(database)).toEqual({ SAAA1: 20_000, SAAA2: 100_000 });
  });
});

describe("losing some", () => {
  const lose = (lotId: number, given: Readonly<Record<string, string>> = {}) =>
    helper.post(
      `/supplies/${soda}/loss`,
      { lostLot: String(lotId), lostAmount: "20.5", cause: "spilled", lossNote: "torn bag", ...given },
      { from: `/supplies/${soda}` },
    );

  it("takes it off its lot with its cause, down to nothing and no further", async () => {
    const lotId = await insertLot(database.db, { supplyId: soda, code: "SAAA1", amount: 50_000 });
    expect((await lose(lotId)).statusCode).toBe(303);
    const over = await lose(lotId, { lostAmount: "29.501" });
    expect(over.statusCode).toBe(409);
    expect(mistakeBeside(over, "lostAmount")).toContain("Only 29.5 g of this lot are there.");
    expect((await lose(lotId, { lostAmount: "29.5", cause: "expired" })).statusCode).toBe(303);
    expect((await ledger(database)).slice(1)).toEqual([
      "SAAA1 lost -20500 spilled",
      "SAAA1 lost -29500 expired",
    ]);
    await insertLot(database.db, { supplyId: soda, code: "SAAA2", amount: 50_000 });
    expect(mistakeBeside(await lose(lotId), "lostLot")).toContain("Nothing is left of that lot");
    expect(mistakeBeside(await lose(lotId, { cause: "eaten" }), "cause")).toBe("Choose what became of it.");
    expect((await helper.get("/supplies/999")).statusCode).toBe(404);
  });
});

describe("the list", () => {
  it("answers in a sentence, and marks what is to be seen to", async () => {
    const { db } = database;
    const acid = await insertSupply(db, { name: "Acid", kind: "acid", leastOnHand: 2_000_000 });
    const tea = await insertSupply(db, { name: "Tea oil", kind: "scent" });
    await insertLot(db, { supplyId: soda, code: "SAAA1", amount: 900_000, expiresOn: "2027-03-20" });
    await insertLot(db, { supplyId: acid, code: "SAAA2", amount: 1_000_000 });
    await insertLot(db, { supplyId: tea, code: "SAAA3", amount: 5_000, expiresOn: "2027-02-27" });
    const page = await helper.get("/supplies");
    expect(headingOf(page.body)).toBe("2 supplies on hand; nothing is left of Tea oil.");
    const text = textOf(page.body);
    expect(text).toContain("Acid 1 kg · below 2 kg");
    expect(text).toContain("Soda 900 g Saturday 20 March 2027 expires soon");
    expect(text).toContain("5 g past its day");
  });
});

describe("suppliers, packs and packing lists", () => {
  it("are kept by forms, each mistake beside its field", async () => {
    const heron = { name: "Paper Heron", deliveryDays: "4", weekdays: ["4", "2"], contact: "by telephone" };
    expect(ledTo(await owner.post("/setup/suppliers", heron))).toEqual([303, "/setup/suppliers"]);
    expect(textOf((await owner.get("/setup/suppliers")).body)).toContain("Tuesday and Thursday");
    expect(mistakeBeside(await owner.post("/setup/suppliers", heron), "name")).toContain("this name");
    const late = await owner.post("/setup/suppliers", { ...heron, name: "X", deliveryDays: "soon" });
    expect(mistakeBeside(late, "deliveryDays")).toContain("Give a whole number from 0 to 365.");

    const cup = { name: "Cup", kind: "cup", statement: "", leastOnHand: "50", coverDays: "" };
    expect(ledTo(await owner.post("/setup/packaging", cup))).toEqual([303, "/setup/packaging"]);
    const [row] = await database.sql`select id, least_on_hand::integer as least, cover_days, counted
      from supplies where kind = 'cup'`;
    expect(row).toMatchObject({ least: 50, cover_days: 14, counted: true });
    const packs = `/setup/supplies/${row?.id}/packs`;
    const pack = {
      supplier: "2",
      content: "250",
      unit: "piece",
      price: "11.50",
      leastPacks: "2",
      code: "C70",
    };
    expect(ledTo(await owner.post(packs, pack))).toEqual([303, packs]);
    await owner.post(packs, { ...pack, content: "1000", price: "39", usual: "yes" });
    const text = textOf((await owner.get(packs)).body);
    expect(text).toMatch(/1 000 pieces from Paper Heron, €39.00, at least 2 packs C70 bought as a rule/);
    expect(mistakeBeside(await owner.post(packs, { ...pack, content: "2.5" }), "content")).toBe(
      "Give whole pieces.",
    );
    await owner.post(`${packs}/usual`, { pack: "1" });
    await owner.post(`${packs}/retirement`, { pack: "2" });
    expect(await database.sql`select id, usual from supply_packs where retired_at is null`).toEqual([
      { id: 1, usual: true },
    ]);
  });

  it("refuse to pack with powder, or to weigh cups into a bowl, whoever writes", async () => {
    const { sql } = database;
    await sql`insert into blends (code, name, colour, pattern, shade) values ('oat', 'Oat', '#e8d6b3', 'plain', 0.1)`;
    await sql`insert into shapes (code, name, mold_sets, dries_in, mold_minutes, rest_minutes, units_per_tray,
      piece_milligrams, form_seconds, turn_seconds, unmold_seconds, pack_seconds)
      values ('ball', 'Ball', 1, 'half', 60, 60, 10, 1000, 1, 1, 1, 1)`;
    await sql`insert into products (code, name, blend_id, shape_id) values ('oat/ball', 'Oat ball', 1, 1)`;
    const list = (given: Readonly<Record<string, readonly string[]>>) =>
      owner.post("/setup/products/1/packing", {
        ...{ packedWith: [String(soda)], packedAmount: ["1"], packedFor: [""] },
        ...given,
      });
    expect(mistakeBeside(await list({}), "packing.0.supply")).toContain("not in use any more");
    await expect(
      sql`insert into packing_parts (product_id, supply_id, amount) values (1, ${soda}, 1)`,
    ).rejects.toMatchObject({ constraint_name: "packing_parts_of_its_use" });
    const cup = String(await insertSupply(database.db, { name: "Cup", kind: "cup" }));
    const twice = { packedWith: [cup, cup], packedAmount: ["1", "none"], packedFor: ["", ""] };
    const wrong = await list(twice);
    expect(mistakeBeside(wrong, "packing.1.amount")).toContain("Give a whole number from 1");
    expect(ledTo(await list({ packedWith: [cup], packedFor: ["12"] }))).toEqual([303, "/setup/products/1"]);
    expect(textOf((await owner.get("/setup/products/1")).body)).toContain("Cup 1 for every 12 pieces");
    const row = { category: "9", validFrom: "2027-03-01", note: "", writtenFor: "", writtenForUnit: "kg" };
    const recipe = await owner.post("/recipes/1", {
      ...{ ...row, partSupply: [cup], partAmount: ["1"], partUnit: ["g"], partPhase: [""] },
    });
    expect(mistakeBeside(recipe, "parts.0.supply")).toContain("not in use any more");
  });

  it("are the owner's", async () => {
    for (const place of ["suppliers", "packaging", `supplies/${soda}/packs`])
      expect((await helper.get(`/setup/${place}`)).statusCode).toBe(403);
  });
});
